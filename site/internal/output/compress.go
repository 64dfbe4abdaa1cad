package output

import (
	"bytes"
	"compress/gzip"
	"path"
	"slices"

	"github.com/andybalholm/brotli"
)

// compressible reports whether a file of this name gets smaller by compression; pictures and archives
// are compressed already.
func compressible(name string) bool {
	return slices.Contains([]string{
		".css", ".csv", ".html", ".js", ".json", ".map", ".md", ".svg", ".txt", ".wasm", ".webmanifest", ".xml",
	}, path.Ext(name))
}

// variant is a compressed copy, written beside its file under the file's name and suffix.
type variant struct {
	suffix string
	data   []byte
}

// suffixes lists the endings that only this package adds.
func suffixes() []string { return []string{".gz", ".br"} }

// compressed returns the copies that are smaller than data. The same data give the same bytes: the
// head of a gzip file (RFC 1952) gets neither name nor time.
func compressed(data []byte) ([]variant, error) {
	var zipped, brotlied bytes.Buffer
	z, err := gzip.NewWriterLevel(&zipped, gzip.BestCompression)
	if err != nil {
		return nil, err
	}
	if _, err := z.Write(data); err != nil {
		return nil, err
	}
	if err := z.Close(); err != nil {
		return nil, err
	}
	b := brotli.NewWriterLevel(&brotlied, brotli.BestCompression)
	if _, err := b.Write(data); err != nil {
		return nil, err
	}
	if err := b.Close(); err != nil {
		return nil, err
	}
	all := []variant{{".gz", zipped.Bytes()}, {".br", brotlied.Bytes()}}
	return slices.DeleteFunc(all, func(v variant) bool { return len(v.data) >= len(data) }), nil
}
