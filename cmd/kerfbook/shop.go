package main

import (
	"fmt"
	"io/fs"
	"os"
)

// openShop opens a shop's own folder; nil when none is named. Nothing outside the
// folder can be read through it, whatever links stand in it.
func openShop(dir string) (fs.FS, error) {
	if dir == "" {
		return nil, nil
	}
	info, err := os.Stat(dir)
	if err != nil || !info.IsDir() {
		return nil, fmt.Errorf("there is no shop's folder %s: name the folder that holds shop.yaml", dir)
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("the shop's folder %s cannot be opened: %w", dir, err)
	}
	return root.FS(), nil
}
