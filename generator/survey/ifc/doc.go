// Package ifc reads building models written as STEP files (ISO 10303-21 clear text, schemas IFC2X3, IFC4 and IFC4X3,
// plain or in an .ifczip) into the neutral model of package survey.
//
// A file is read once, record by record: only the text of records that can matter is kept, in one arena, and is taken
// apart when asked for. What follows from the text is then built in metres and world coordinates: units, placements,
// bodies with plane faces (curves become chords), space boundaries, openings and what crosses an envelope face.
//
// Whatever cannot be read is a finding with the record's number and its line. Nothing is left out without one.
//
// Sources: ISO 10303-21 for the syntax; the EXPRESS schemas IFC2X3_TC1 and IFC4_ADD2 for the order of attributes; the
// published IFC documentation for half spaces, mapped items and space boundaries.
package ifc
