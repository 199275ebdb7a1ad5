package settings

import (
	"bufio"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"runtime"
	"slices"
	"strings"
)

// names are the options that may stand in the defaults file or, as READBACK_NAME, in
// the environment: who observes with what, under which limits, and how it is shown.
var names = []string{
	"instrument", "serial", "observer", "booker", "by", "unit", "least-count", "sigma", "distance-sd", "distance-ppm",
	"circle", "closing-rule", "refraction", "limit-rounds", "limit-misclosure", "limit-2c", "limit-index", "limit-figure",
	"utc", "zone", "theme", "ascii", "copy", "job", "client", "place",
}

// ofBook are those that a book says itself: the defaults hold for a book that does
// not.
var ofBook = []string{"job", "client", "place"}

// Defaults are options that hold where the command line does not give them.
type Defaults struct {
	getenv func(string) string
	file   map[string]string
}

// defaultsFile is where the defaults file stands: readback/defaults in the directory
// for settings of the account.
func defaultsFile(getenv func(string) string) string {
	dir := getenv("XDG_CONFIG_HOME")
	if dir == "" && runtime.GOOS == "windows" {
		dir = getenv("APPDATA")
	}
	if dir == "" && getenv("HOME") != "" {
		dir = filepath.Join(getenv("HOME"), ".config")
	}
	if dir == "" {
		return ""
	}
	return filepath.Join(dir, "readback", "defaults")
}

// LoadDefaults reads the defaults file; one that is not there holds nothing.
func LoadDefaults(getenv func(string) string) (Defaults, error) {
	d := Defaults{getenv: getenv, file: map[string]string{}}
	name := defaultsFile(getenv)
	if name == "" {
		return d, nil
	}
	f, err := os.Open(name)
	if errors.Is(err, fs.ErrNotExist) {
		return d, nil
	}
	if err != nil {
		return d, fmt.Errorf("cannot read the defaults: %w", err)
	}
	defer f.Close()
	lines := bufio.NewScanner(f)
	for n := 1; lines.Scan(); n++ {
		if err := d.line(lines.Text()); err != nil {
			return d, fmt.Errorf("%s: line %d: %w", name, n, err)
		}
	}
	if err := lines.Err(); err != nil {
		return d, fmt.Errorf("cannot read %s: %w", name, err)
	}
	return d, nil
}

// line takes one line: name = value. An empty line or one that begins with # says
// nothing.
func (d Defaults) line(text string) error {
	text = strings.TrimSpace(text)
	if text == "" || strings.HasPrefix(text, "#") {
		return nil
	}
	name, value, ok := strings.Cut(text, "=")
	name = strings.TrimSpace(name)
	switch {
	case !ok:
		return fmt.Errorf("expected a line such as booker = Tam Okoro, got %q", text)
	case !slices.Contains(names, name):
		return fmt.Errorf("%q is no default: expected one of %s", name, strings.Join(names, ", "))
	}
	d.file[name] = strings.TrimSpace(value)
	return nil
}

// Of returns the default of an option; the environment goes before the file.
func (d Defaults) Of(option string) (value string, ok bool) {
	if !slices.Contains(names, option) {
		return "", false
	}
	if v := d.getenv("READBACK_" + strings.ToUpper(strings.ReplaceAll(option, "-", "_"))); v != "" {
		return v, true
	}
	v, ok := d.file[option]
	return v, ok
}

// OfCall returns the default of an option that the call of a command leaves out.
func (d Defaults) OfCall(option string) (value string, ok bool) {
	if slices.Contains(ofBook, option) {
		return "", false
	}
	return d.Of(option)
}
