// Package jobfile reads a job as people write it into package job's types, and finds everything that is wrong with it in
// one run, each finding with its file, line and column and what to change.
//
// # The format
//
// A job is a folder with a file job.yaml and the further files that it names. It is YAML without references (& and *)
// and type tags. This is a whole job:
//
//	reference: 26-014
//	name: Garden study
//	lengths: mm                   # unit of every length without one; else write 2.4 m, 60 mm, 8 ft 2 in
//	target: {kind: n50, value: 1.5, source: the designer}
//	storeys:
//	  - {id: "0", name: Ground floor, level: 0, height: 2500}
//	faces:                        # kinds of surface, named once
//	  outer: {behind: outside, layer: sheet, substrate: timber-planed, framing: {spacing: 600}}
//	  inner: {behind: heated}
//	  roof: {like: outer, framing: {along: y}}
//	rooms:
//	  - id: B2
//	    name: Study
//	    storey: "0"
//	    plan: {from: [0, 0], size: [3000, 3600]}   # or the corners in order: [[0, 0], [3000, 0], ...]
//	    walls: {usual: outer, 4: inner}            # wall 1 runs from corner 1 to corner 2
//	    ceiling: roof
//	    floor: {behind: ground, layer: none, substrate: screed}
//	    openings:
//	      - {id: O1, kind: window, in: wall 3, at: [900, 900], size: [1200, 1500], reveal: 90}
//	    penetrations:
//	      - {id: P01, item: cable, in: wall 2, at: [500, 300], diameter: 10, serves: sockets}
//
// Plan coordinates are those of the whole house, on inside faces: x to the right, y up on the sheet. A rectangle's walls
// are 1 along its lower edge, 2 right, 3 upper, 4 left. Places on walls and slopes count from the left end seen from
// inside and from the lower edge; on ceilings and floors from the lower left corner of the box round the plan.
//
// # Faces
//
// What a surface is may be said in three places, the most specific first: by the room (walls by number, then its usual
// wall), by the storey (usual) and by the job (usual). Each adds what the one before leaves out. A face that names
// another by "like", or is only a name, takes the rest from that one and not from the more general places. Framing is
// combined key by key. A dormer's faces are those of its slope where it says nothing.
//
// # Further files
//
// "files" names them, inside the folder, with * for any letters; names with * are read in alphabetical order. They may
// hold every key but files and lengths. Lists and named things go on from file to file; anything else is said once.
//
// # Answers and settings
//
// Both hold for the whole job, or "for" one place or several: a room (B2), a surface (B2-W3), an opening (B2-O1), a
// penetration (B2-P01), a member (B2-M1). Rooms, openings, penetrations and members may also carry their own "answers",
// rooms their own "settings". Questions without an answer are no findings here.
//
// # Airtightness
//
//	target: {kind: n50, value: 1.5, source: the designer, limit: de-plant}   # limit: a row of the table of limits
//	measures: {volume: 480, reason: net volume by the tester, without the stair}   # m³, m²; else from the rooms
//	tests:
//	  - {file: tests/interim.csv, kind: interim, by: R. Atzlinger, role: fitter}
//
// # Keys, reader and schema
//
// Every mapping is declared once, as a list of keys (keys_*.go): name, meaning, kind of value, place it fills. Reading and
// the JSON Schema both follow from that list.
package jobfile
