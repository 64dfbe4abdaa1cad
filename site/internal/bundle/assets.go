package bundle

import (
	"encoding/json"
	"fmt"
	"io/fs"
	"path"
	"strings"

	"github.com/evanw/esbuild/pkg/api"
)

// Script bundles a TypeScript entry point of src into one classic script. Names
// in texts stand for these strings.
func Script(src fs.FS, entry string, texts map[string]string) ([]byte, error) {
	define := map[string]string{}
	for name, text := range texts {
		quoted, err := json.Marshal(text)
		if err != nil {
			return nil, fmt.Errorf("the text %s cannot be quoted: %w", name, err)
		}
		define[name] = string(quoted)
	}
	return build(src, entry, api.BuildOptions{Define: define, Format: api.FormatIIFE, Target: api.ES2020, Platform: api.PlatformBrowser})
}

// Style bundles a style sheet and what it imports.
func Style(src fs.FS, entry string) ([]byte, error) {
	return build(src, entry, api.BuildOptions{Engines: []api.Engine{{Name: api.EngineChrome, Version: "109"}, {Name: api.EngineSafari, Version: "16.4"}, {Name: api.EngineFirefox, Version: "113"}}})
}

// build runs esbuild on a file system that is not the disk, so that an embedded
// theme and one under edit are bundled alike.
func build(src fs.FS, entry string, o api.BuildOptions) ([]byte, error) {
	o.EntryPoints = []string{entry}
	o.Bundle, o.Write = true, false
	o.MinifyWhitespace, o.MinifySyntax, o.MinifyIdentifiers = true, true, true
	o.Charset = api.CharsetUTF8
	o.LegalComments = api.LegalCommentsNone
	o.LogLevel = api.LogLevelSilent
	o.Plugins = []api.Plugin{{Name: "content", Setup: func(b api.PluginBuild) { load(b, src) }}}
	r := api.Build(o)
	if len(r.Errors) > 0 || len(r.Warnings) > 0 {
		var said []string
		for _, m := range append(r.Errors, r.Warnings...) {
			where := entry
			if m.Location != nil {
				where = fmt.Sprintf("%s:%d:%d", m.Location.File, m.Location.Line, m.Location.Column+1)
			}
			said = append(said, where+": "+m.Text)
		}
		return nil, fmt.Errorf("the theme does not bundle:\n%s", strings.Join(said, "\n"))
	}
	if len(r.OutputFiles) != 1 {
		return nil, fmt.Errorf("the theme's %s gave %d files, one is wanted", entry, len(r.OutputFiles))
	}
	return r.OutputFiles[0].Contents, nil
}

func load(b api.PluginBuild, src fs.FS) {
	b.OnResolve(api.OnResolveOptions{Filter: ".*"}, func(a api.OnResolveArgs) (api.OnResolveResult, error) {
		name := a.Path
		if a.Importer != "" {
			name = path.Join(path.Dir(a.Importer), a.Path)
		}
		if _, err := fs.Stat(src, name); err != nil {
			if _, err := fs.Stat(src, name+".ts"); err != nil {
				return api.OnResolveResult{}, fmt.Errorf("the theme has no file %s", name)
			}
			name += ".ts"
		}
		return api.OnResolveResult{Path: name, Namespace: "theme"}, nil
	})
	b.OnLoad(api.OnLoadOptions{Filter: ".*", Namespace: "theme"}, func(a api.OnLoadArgs) (api.OnLoadResult, error) {
		data, err := fs.ReadFile(src, a.Path)
		if err != nil {
			return api.OnLoadResult{}, err
		}
		text, loader := string(data), api.LoaderTS
		if strings.HasSuffix(a.Path, ".css") {
			loader = api.LoaderCSS
		}
		return api.OnLoadResult{Contents: &text, Loader: loader}, nil
	})
}
