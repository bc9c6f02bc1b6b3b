package jobfile

import (
	"encoding/json"
	"slices"
	"strings"
)

// schema is the part of JSON Schema (draft 2020-12) that describes our files.
type schema struct {
	Dialect              string             `json:"$schema,omitempty"`
	Title                string             `json:"title,omitempty"`
	Description          string             `json:"description,omitempty"`
	Ref                  string             `json:"$ref,omitempty"`
	Type                 types              `json:"type,omitempty"`
	Enum                 []string           `json:"enum,omitempty"`
	Pattern              string             `json:"pattern,omitempty"`
	MaxLength            int                `json:"maxLength,omitempty"`
	Minimum              *float64           `json:"minimum,omitempty"`
	Maximum              *float64           `json:"maximum,omitempty"`
	Items                *schema            `json:"items,omitempty"`
	MinItems             int                `json:"minItems,omitempty"`
	MaxItems             int                `json:"maxItems,omitempty"`
	Properties           map[string]*schema `json:"properties,omitempty"`
	Required             []string           `json:"required,omitempty"`
	PropertyNames        *schema            `json:"propertyNames,omitempty"`
	AdditionalProperties *schema            `json:"additionalProperties,omitempty"`
	Not                  *schema            `json:"not,omitempty"`
	AnyOf                []*schema          `json:"anyOf,omitempty"`
	Defs                 map[string]*schema `json:"$defs,omitempty"`
}

// types is one type name, or several with commas between.
type types string

// MarshalJSON writes one name as a string and several as a list.
func (t types) MarshalJSON() ([]byte, error) {
	names := strings.Split(string(t), ",")
	if len(names) == 1 {
		return json.Marshal(names[0])
	}
	return json.Marshal(names)
}

// keysSchema describes a mapping with such keys.
//
//go:noinline
func keysSchema[P any](name string, keys []*key[P]) func(defs map[string]*schema) *schema {
	return func(defs map[string]*schema) *schema { return objectSchema(defs, name, keys) }
}

// objectSchema enters a mapping's schema among the definitions and refers to it.
func objectSchema[P any](defs map[string]*schema, name string, keys []*key[P]) *schema {
	id := strings.ReplaceAll(strings.TrimPrefix(strings.TrimPrefix(name, "an "), "a "), " ", "-")
	ref := &schema{Ref: "#/$defs/" + id}
	if defs[id] != nil {
		return ref
	}
	out := &schema{Type: "object", Properties: map[string]*schema{}, AdditionalProperties: &schema{Not: &schema{}}}
	defs[id] = out
	for _, k := range keys {
		part := *k.schema(defs)
		part.Description = k.doc
		out.Properties[k.name] = &part
		if k.must {
			out.Required = append(out.Required, k.name)
		}
	}
	slices.Sort(out.Required)
	return ref
}

// Schema gives the JSON Schema (draft 2020-12) of job.yaml. Its definition "part" describes the further files of a job,
// "firm" firm.yaml. It is made from the same keys the reader follows.
func Schema() []byte {
	defs := map[string]*schema{}
	part := objectSchema(defs, "part", jobKeys())
	defs["part"].Required = nil
	firmValue.schema(defs)
	return printed(&schema{Title: "Lapwork job", Ref: part.Ref, Required: requiredKeys(jobKeys()), Defs: defs})
}

// FirmSchema gives the JSON Schema of firm.yaml by itself.
func FirmSchema() []byte {
	defs := map[string]*schema{}
	return printed(&schema{Title: "Lapwork firm", Ref: firmValue.schema(defs).Ref, Defs: defs})
}

func printed(root *schema) []byte {
	root.Dialect = "https://json-schema.org/draft/2020-12/schema"
	text, err := json.MarshalIndent(root, "", "  ")
	if err != nil {
		panic(err) // only our own types are in it
	}
	return append(text, '\n')
}

func requiredKeys(keys []*key[*rawJob]) []string {
	var out []string
	for _, k := range keys {
		if k.must {
			out = append(out, k.name)
		}
	}
	slices.Sort(out)
	return out
}
