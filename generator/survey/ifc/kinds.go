package ifc

import "slices"

// words are the names of the schema as it writes them; files write capitals. Only what goes into a survey stands here.
var words = map[string]string{
	"IFCWALL": "IfcWall", "IFCWALLSTANDARDCASE": "IfcWallStandardCase", "IFCWALLELEMENTEDCASE": "IfcWallElementedCase",
	"IFCCURTAINWALL": "IfcCurtainWall", "IFCSLAB": "IfcSlab", "IFCSLABSTANDARDCASE": "IfcSlabStandardCase",
	"IFCSLABELEMENTEDCASE": "IfcSlabElementedCase", "IFCROOF": "IfcRoof", "IFCCOVERING": "IfcCovering", "IFCPLATE": "IfcPlate",
	"IFCWINDOW": "IfcWindow", "IFCWINDOWSTANDARDCASE": "IfcWindowStandardCase", "IFCDOOR": "IfcDoor",
	"IFCDOORSTANDARDCASE": "IfcDoorStandardCase", "IFCOPENINGELEMENT": "IfcOpeningElement", "IFCVIRTUALELEMENT": "IfcVirtualElement",
	"IFCFURNISHINGELEMENT": "IfcFurnishingElement", "IFCFURNITURE": "IfcFurniture", "IFCSTAIR": "IfcStair", "IFCSTAIRFLIGHT": "IfcStairFlight",
	"IFCRAILING": "IfcRailing", "IFCCOLUMN": "IfcColumn", "IFCBEAM": "IfcBeam", "IFCMEMBER": "IfcMember", "IFCFOOTING": "IfcFooting",
	"IFCBUILDINGELEMENTPROXY": "IfcBuildingElementProxy", "IFCANNOTATION": "IfcAnnotation", "IFCRAMP": "IfcRamp", "IFCRAMPFLIGHT": "IfcRampFlight",
	"IFCPILE": "IfcPile", "IFCGRID": "IfcGrid", "IFCSHADINGDEVICE": "IfcShadingDevice",
}

// word is a type as the schema writes it, or as the file does.
func word(kind string) string {
	if w, ok := words[kind]; ok {
		return w
	}
	return kind
}

var (
	wallKinds   = []string{"IFCWALL", "IFCWALLSTANDARDCASE", "IFCWALLELEMENTEDCASE", "IFCCURTAINWALL"}
	slabKinds   = []string{"IFCSLAB", "IFCSLABSTANDARDCASE", "IFCSLABELEMENTEDCASE", "IFCPLATE"}
	roofKinds   = []string{"IFCROOF"}
	windowKinds = []string{"IFCWINDOW", "IFCWINDOWSTANDARDCASE"}
	doorKinds   = []string{"IFCDOOR", "IFCDOORSTANDARDCASE"}
	voidKinds   = []string{"IFCOPENINGELEMENT", "IFCOPENINGSTANDARDCASE"}
	spatial     = []string{"IFCPROJECT", "IFCSITE", "IFCBUILDING", "IFCBUILDINGSTOREY", "IFCSPACE", "IFCFACILITY", "IFCFACILITYPART", "IFCEXTERNALSPATIALELEMENT"}
	// aside are parts that neither bound a room nor pass its envelope as a service does.
	aside = []string{"IFCFURNISHINGELEMENT", "IFCFURNITURE", "IFCSYSTEMFURNITUREELEMENT", "IFCSTAIR", "IFCSTAIRFLIGHT", "IFCRAILING", "IFCCOLUMN",
		"IFCBEAM", "IFCMEMBER", "IFCFOOTING", "IFCBUILDINGELEMENTPROXY", "IFCANNOTATION", "IFCRAMP", "IFCRAMPFLIGHT", "IFCPILE", "IFCGRID",
		"IFCSHADINGDEVICE"}
)

// services are the parts of building services that can pass an envelope face, with the word of the job format for each.
// What is only some flow part is taken by its type or, failing that, as a pipe.
var services = map[string]string{
	"IFCPIPESEGMENT": "pipe", "IFCPIPEFITTING": "pipe", "IFCVALVE": "pipe", "IFCDUCTSEGMENT": "duct", "IFCDUCTFITTING": "duct", "IFCDAMPER": "duct",
	"IFCDUCTSILENCER": "duct", "IFCAIRTERMINAL": "terminal", "IFCAIRTERMINALBOX": "terminal", "IFCCABLESEGMENT": "cable", "IFCCABLEFITTING": "cable",
	"IFCCABLECARRIERSEGMENT": "conduit", "IFCCABLECARRIERFITTING": "conduit", "IFCOUTLET": "back-box", "IFCSWITCHINGDEVICE": "back-box",
	"IFCJUNCTIONBOX": "back-box", "IFCLIGHTFIXTURE": "luminaire", "IFCLAMP": "luminaire", "IFCCHIMNEY": "flue", "IFCSTACKTERMINAL": "vent-pipe",
	"IFCWASTETERMINAL": "soil-pipe", "IFCFLOWSEGMENT": "", "IFCFLOWFITTING": "", "IFCFLOWTERMINAL": "", "IFCFLOWCONTROLLER": "",
	"IFCDISTRIBUTIONFLOWELEMENT": "", "IFCDISTRIBUTIONELEMENT": "", "IFCFLOWMOVINGDEVICE": "", "IFCFLOWTREATMENTDEVICE": "",
	"IFCDISTRIBUTIONCONTROLELEMENT": "back-box", "IFCELECTRICDISTRIBUTIONPOINT": "back-box",
}

func isA(kind string, lists ...[]string) bool {
	for _, l := range lists {
		if slices.Contains(l, kind) {
			return true
		}
	}
	return false
}
