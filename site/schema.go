package site

import (
	"bytes"
	"encoding/json"

	"kerfbook/wasm/calc"
)

// jobSchema is the address of the schema of saved jobs.
const jobSchema = "job-schema.json"

// schema is the part of JSON Schema, draft 2020-12, that a saved job needs.
type schema struct {
	Schema      string             `json:"$schema,omitempty"`
	ID          string             `json:"$id,omitempty"`
	Title       string             `json:"title,omitempty"`
	Description string             `json:"description,omitempty"`
	Type        string             `json:"type,omitempty"`
	Const       string             `json:"const,omitempty"`
	Enum        []string           `json:"enum,omitempty"`
	Default     string             `json:"default,omitempty"`
	Examples    []string           `json:"examples,omitempty"`
	MinLength   int                `json:"minLength,omitempty"`
	Required    []string           `json:"required,omitempty"`
	Properties  map[string]*schema `json:"properties,omitempty"`
	Names       *schema            `json:"propertyNames,omitempty"`
	Additional  *schema            `json:"additionalProperties,omitempty"`
	OneOf       []*schema          `json:"oneOf,omitempty"`
}

// SavedSchema is the JSON Schema of a saved job, from the declarations of the
// calculators: one case for each, whose names are those that border.ReadSaved
// reads. A name it does not hold is a text, since such lines are kept and not
// used; a field's limits stand in words, as a text with its unit cannot be
// compared by a schema.
func (p *press) savedSchema() ([]byte, error) {
	text := func(s schema) *schema { s.Type = "string"; return &s }
	root := &schema{Schema: "https://json-schema.org/draft/2020-12/schema", ID: jobSchema, Title: "Saved job",
		Description: "What was typed into one calculator, kept as a file. Every value is a text; a quantity carries its unit.",
		Type:        "object", Required: []string{"kerfbook-job", "calculator"}, Names: &schema{MinLength: 1}, Additional: text(schema{}),
		Properties: map[string]*schema{
			"kerfbook-job": text(schema{Const: "1", Description: "The version of saved jobs."}),
			"units":        text(schema{Enum: []string{"metric", "inch"}, Default: "metric"}),
			"edition":      text(schema{Description: "Digest of the edition that it was saved with."}),
		}}
	for _, k := range p.site.Set.All() {
		one := &schema{Title: k.Title, Description: k.Question, Properties: map[string]*schema{"calculator": {Const: k.ID}}}
		fields, _ := k.Describe(p.site.Content.Book)
		for _, f := range fields {
			one.Properties["in."+f.Name] = text(fieldSchema(f))
		}
		root.OneOf = append(root.OneOf, one)
	}
	var out bytes.Buffer
	w := json.NewEncoder(&out)
	w.SetEscapeHTML(false)
	w.SetIndent("", " ")
	err := w.Encode(root)
	return out.Bytes(), err
}

func fieldSchema(f calc.Field) schema {
	s := schema{Title: f.Label, Description: f.Help, Default: f.Default}
	for _, l := range f.Limits {
		word := "At least "
		switch {
		case l.Open && l.Min != "":
			word = "More than "
		case l.Open:
			word = "Less than "
		case l.Min == "":
			word = "At most "
		}
		if s.Description != "" {
			s.Description += " "
		}
		s.Description += word + l.Min + l.Max + "."
	}
	if f.Shape == calc.ChoiceShape {
		for _, o := range f.Options {
			s.Enum = append(s.Enum, o.Value)
		}
		return s
	}
	for _, u := range f.Usual {
		if u != "" {
			s.Examples = append(s.Examples, u)
		}
	}
	return s
}
