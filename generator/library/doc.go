// Package library holds method statements, components, substrates, rules, cautions and checks: it parses them, checks
// them, layers built-in < firm < job, and selects the one statement that answers a junction record.
//
// # Layers
//
// Load reads three folders, each with tables/*.csv and library/*.md, all of them optional. A row of a later table takes
// the place of the row with its id. A statement takes the place of another only by saying so (replaces); an id that is
// already taken is a fault. Load reports every finding of every file in one run; nothing dangles after it.
//
// A Bundle is a library of others: a folder or a bounded zip with a library.yaml of name, version and about. A firm pins
// it by the hash of its content; pinned bundles are layers between the built-in one and the firm's own.
//
// Audit looks closer than Load: words that no record has, statements that never answer or answer together with another,
// acceptance values without a unit, drawings that do not fit their steps. It searches the shapes of records that the
// predicates can tell apart, attributes taken as independent.
//
// # Statement files
//
// A statement is one Markdown file named after its id: YAML front matter between two lines of three dashes, then a
// numbered list of steps. Every unknown key is a finding with a suggestion.
//
//	id, title, revision, group         group: field, edge, structure, opening, penetration
//	applies: {when, priority, note}    an expression; the highest priority among the true ones wins, a tie is a fault
//	replaces                           id of a statement of a lower layer
//	deprecated: {since, use}           kept for old jobs; use is what answers instead
//	substrates                         rows of the substrate table it was written for
//	seals                              layer, substrate or member: what its components hold on
//	measure, drives, activity, labour: {low, likely, high, per, source}
//	conditions                         a condition set
//	components                         list of {use, role, variant, when, why, amount, unit, on, source}
//	variants                           list of {id, title, when, why, steps, turn, activity, labour, unresolved}
//	turn: {sheet, fold, ceiling-down}  sheet: setting, or millimetres
//	prepare, tolerance, cautions, after, before, rules
//	checks                             list of {qa, accept, variant, range, source}; range of the number: 4 mm or more
//	faults                             list of {sign, repair}
//	examples                           list of {note, given, expect}: worked by hand, run at every load
//	section                            a section drawing, below
//	unresolved                         nobody decides it on site; says whom to ask
//	source, figures                    a status word and where it comes from; figures: of the amounts
//
// Roles of a component: main, if (needs when), option (offered, not ordered), info (cutting plan only), layout (ordered
// only while no strip layout is run). Steps, acceptance values, the tolerance, labels and dimensions may show figures: {=lap_mm}.
//
// # Expressions
//
// The names are the fields of Env: attributes and measures of the record, settings, sub and mem (rows of the substrate
// table), flag.x (answers of the site lead). Operators + - * / == != < <= > >= in and or not; functions ceil, max, min.
// They are compiled and type-checked at load. A result that is not a number, infinite or negative is an error.
//
// # Section drawings
//
// Millimetres of the real thing, origin at the bottom left, Y up; solids first, then the layer, then marks. Either parts,
// or frames: a list of {caption, parts}.
//
//	{solid: timber-end, box: [x, y, width, height], name: stud}    or path: [[x, y], ...]
//	{sheet: [[x, y], [x, y]], name: wall sheet}                    also tape, adhesive, primer, collar, membrane
//	{bead: [[x, y]]}, {staple: [[x, y]]}                           one place or more
//	{screw: [head, tip]}, {fold: [place, how far the loop reaches]}
//	{dimension: [[x, y], [x, y]], text: "{=lap_mm}"}
//	{label: stud, at: [x, y], to: [x, y]}, {number: 3, at: [x, y], to: [x, y]}
//
// # Selection
//
// Select tests every statement's predicate, takes the last variant that is true, and checks each seal against the
// substrate table: where the table says no, the true variant before it is tried, down to the default, else the record is
// unresolved. It says which unanswered questions could change the answer. Nothing falls back to a neighbour's method.
package library
