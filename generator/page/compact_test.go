package page

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	_ "lapwork/generator/lawtest"
	"lapwork/generator/theme"
	"lapwork/themes"
)

func TestCompact(t *testing.T) {
	for _, c := range []struct{ css, want string }{
		{"a { color: red; }\n", "a{color:red}"},
		{"a,\n b > c { margin: 0 auto ; padding : 1px }", "a,b>c{margin:0 auto;padding :1px}"},
		{"/* all */ a { /* one */ color: red; /* two */ }", "a{color:red}"},
		{"a/**/b { x: y }", "a/**/b{x:y}"},
		{"a /* and */ b { x: y }", "a b{x:y}"},
		{".a/* no space */.b { x: y }", ".a/**/.b{x:y}"},
		{"a {} /* never closed", "a{}"},
		{"li :first-child, li:first-child { x: y }", "li :first-child,li:first-child{x:y}"},
		{".a :is(.b, .c) + d ~ e { x: y }", ".a :is(.b,.c) + d ~ e{x:y}"},
		{"a { width: calc( 1px + (2px - 3px) * 4 ); }", "a{width:calc( 1px + (2px - 3px) * 4 )}"},
		{"@media screen and (min-width: 9px), print { a { x: y; } }", "@media screen and (min-width:9px),print{a{x:y}}"},
		{"@page wide { margin: 1mm; @top-right { content: \"a ; b\" } }", "@page wide{margin:1mm;@top-right{content:\"a ; b\"}}"},
		{`a::before { content: "  /* , > ; \" } " ; }`, `a::before{content:"  /* , > ; \" } "}`},
		{`a { content: '{ : }' attr( x ) " b" }`, `a{content:'{ : }' attr( x ) " b"}`},
		{`.\31 23 .b { x: \26 ; }`, `.\31 23 .b{x:\26 }`},
		{`.a\: .b, .c\> .d { x: y\; ; }`, `.a\: .b,.c\> .d{x:y\;}`},
		{"a { --none: ; --some: 1; }", "a{--none: ;--some:1}"},
		{"a { background: url( x  y,z ) ; }", "a{background:url( x  y,z )}"},
		{`a { background: URL( "x , y" ) ; }`, `a{background:URL( "x , y" )}`},
		{`a[b="c > d"] { x: y !important }`, `a[b="c > d"]{x:y !important}`},
		{"a { x: \"open\n y: z }", "a{x:\"open\n y:z}"},
		{"  \n ", ""},
	} {
		if got := compact(c.css); got != c.want {
			t.Errorf("%q: %q, want %q", c.css, got, c.want)
		}
	}
}

// What is compact stays as it is, nothing grows, and white space more or less at a place where a blank stood makes no
// difference.
func TestCompactLaws(t *testing.T) {
	pieces := []string{"a", ".b", "#c", ":is(", ")", "{", "}", ";", ":", ",", ">", "+", " ", "  ", "\n", "/* x */", "/*", "*/", `"s ; t"`, `'u'`, `"`, `\`, `\2`, "url(", "@media ", "--x", "1px", "!"}
	rapid.Check(t, func(t *rapid.T) {
		parts := rapid.SliceOfN(rapid.SampledFrom(pieces), 0, 30).Draw(t, "parts")
		css := strings.Join(parts, "")
		once := compact(css)
		if again := compact(once); again != once {
			t.Fatalf("%q: %q, and again %q", css, once, again)
		}
		if len(once) > len(css)+1 {
			t.Fatalf("%q grew: %q", css, once)
		}
	})
}

func FuzzCompact(f *testing.F) {
	styles, err := theme.ReadStyles(themes.FS)
	if err != nil {
		f.Fatal(err)
	}
	for _, s := range styles {
		f.Add(s.Text)
	}
	f.Add(`a{b:"\`)
	f.Add("/*/")
	f.Fuzz(func(t *testing.T, css string) {
		if got := compact(css); len(got) > len(css)+1 {
			t.Errorf("%q grew: %q", css, got)
		}
	})
}

// Compact is for the tests beside a browser.
var Compact = compact
