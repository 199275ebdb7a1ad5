// Package repair looks at closed books as a whole and builds them anew: audit,
// restoring, salvage, filling and the steps between file formats.
package repair
