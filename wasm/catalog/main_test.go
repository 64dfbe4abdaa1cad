package catalog

import (
	"flag"
	"os"
	"testing"
)

func TestMain(m *testing.M) {
	flag.Bool("update", false, "put new names on the list of public names")
	flag.Parse()
	os.Exit(m.Run())
}
