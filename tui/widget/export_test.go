package widget

// Simple is simple, for the tests.
var Simple = simple
