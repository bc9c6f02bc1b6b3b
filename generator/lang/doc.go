// Package lang holds the languages of a pack: for each language a catalogue of English texts and what stands for them.
//
// The English text itself is the key, so that a text changed at its source is missing in every language until somebody
// has looked at it, and is never shown as an old translation. Files are lang/TAG/**/*.yaml of a layer:
//
//	language: de
//	reviewed: no             # yes: read by a person whose mother tongue it is
//	texts:
//	  "sole plate": "Schwelle"
//	  "%d rolls": {one: "%d Rolle", other: "%d Rollen"}
//
// Files in a folder called interface hold patterns as of fmt: a translation has the same verbs, in the same order or by
// number (%[2]s). All other files hold plain texts: a translation has the same computed figures {=lap_mm}. The first
// whole number among a pattern's values chooses between its forms, by the plural rules of the Unicode locale data.
//
// A catalogue does not change after it is loaded and may be used by several goroutines.
package lang
