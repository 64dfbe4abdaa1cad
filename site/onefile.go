package site

import (
	"bytes"
	"html/template"
	"strings"

	"kerfbook/site/internal/bundle"
	"kerfbook/site/internal/render"
	"kerfbook/site/theme"
)

// oneFileName is the whole handbook as one page, for a device on which a page
// cannot reach its neighbours.
const oneFileName = "handbook-one-file.html"

// oneFile sets every sheet again with links inside the one page.
func (p *press) oneFile(bookText string) error {
	one := theme.OneFile{Pack: bundle.Packed, Book: p.book, Style: template.CSS(p.made.style.data), Script: template.JS(p.made.script.data), Wasm64: template.HTML(p.made.packed), Book64: template.HTML(bundle.Packed([]byte(bookText)))}
	href := func(address string) string {
		file, fragment, has := strings.Cut(address, "#")
		id := "#" + anchorOf(file)
		if !has {
			return id
		}
		// A fragment in another sheet: the sheet's prefix makes it one of a kind.
		return id + "." + fragment
	}
	for i, s := range p.sheets {
		id := anchorOf(s.address)
		page := p.setPage(i, s.made.Set(render.Place{Href: href, Prefix: id + ".", One: true}), href)
		page.Root, page.Schema, page.Prefix = "", "", id+"."
		one.Pages = append(one.Pages, theme.OnePage{ID: id, Page: page})
	}
	one.Edition = one.Pages[0].Edition
	var out bytes.Buffer
	if err := p.made.theme.OneFile(&out, one); err != nil {
		return err
	}
	return p.put(oneFileName, out.Bytes())
}

// anchorOf is a sheet's id in the one file: "wire/index.html" is "p-wire".
func anchorOf(address string) string {
	name := strings.TrimSuffix(strings.TrimSuffix(address, ".html"), "/index")
	return "p-" + strings.ReplaceAll(name, "/", "-")
}
