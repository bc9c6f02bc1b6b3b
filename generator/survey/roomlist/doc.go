// Package roomlist reads a room list or room schedule as CSV (RFC 4180 and what is found in its place: semicolons, tabs,
// decimal commas, any usual encoding) or as an XLSX workbook.
//
// The header may stand below a title, in English, German, French, Spanish or Polish, with units or without; a list may
// also run across, a room in each column. Columns are recognised by their titles, and how each was understood is said. A
// storey may have a column, or a row of its own above its rooms. A column with a quantity stands for several rooms. Where
// length and width are missing the area gives a rectangle, by a column with the ratio of its sides if there is one.
//
// Units come from the cell, else from the title, else from the size of the figures, and a guess is reported. A cell that
// cannot be read is named by sheet and cell.
package roomlist
