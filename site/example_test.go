package site

import (
	"context"
	"fmt"
	"testing/fstest"
)

// A handbook goes in as a file system and comes out through a sink. What is wrong in
// it comes back as messages with their place, and then nothing is published.
func ExamplePublish() {
	files := Files{}
	res, err := Publish(context.Background(), trial(content()), files)
	fmt.Println(err, res.Pages, "pages,", files["how/index.html"] != nil, files["edition.json"] != nil)

	c := content()
	c["handbook/10-how/20-more.md"] = &fstest.MapFile{Data: []byte("---\ntitle: More\nnumber: \"011\"\naliases: [old/more.html]\n---\nMore [of it](missing.md).\n")}
	files = Files{}
	res, err = Publish(context.Background(), trial(c), files)
	fmt.Println(err, len(files), "files")
	for _, m := range res.Messages {
		fmt.Println(m.Span.File, m.Text)
	}
	// Output:
	// <nil> 3 pages, true true
	// the content has errors; nothing was published 0 files
	// handbook/10-how/20-more.md there is no page “handbook/10-how/missing.md”
}
