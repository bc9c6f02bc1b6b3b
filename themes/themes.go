// Package themes holds the look of a pack and the scripts that run on a tablet.
package themes

import "embed"

// The scripts of a pack are made from site/*.js, which people read and change, by a bundler that is no part of the program.
//go:generate go run -C ../.ci ./scripts ../themes

// FS holds the style sheets of site, embedded as they are read, and the scripts in built.
//
//go:embed site/*.css built
var FS embed.FS
