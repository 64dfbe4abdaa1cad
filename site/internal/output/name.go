package output

import (
	"slices"
	"strings"
)

// LongestName is the number of characters that a published name may have, slashes and extension
// included.
const LongestName = 120

// CheckName reports whether a file may be published under name: parts of a to z, 0 to 9 and hyphen,
// divided by slashes, the last one with one extension. Such names are the same on every system, are
// never taken for one another where upper and lower case are equal, and need no escape in a link.
func CheckName(name string) error {
	bad := func(format string, args ...any) error {
		return fail(BadName, "cannot publish a file as %q: "+format, append([]any{name}, args...)...)
	}
	if len(name) > LongestName {
		return bad("the name has %d characters; %d are allowed", len(name), LongestName)
	}
	parts := strings.Split(name, "/")
	for i, part := range parts {
		stem, extension, dotted := strings.Cut(part, ".")
		last := i == len(parts)-1
		switch {
		case !only(stem, "-"), last && !only(extension, ""), !last && dotted:
			return bad("use a to z, 0 to 9 and hyphens, folders divided by a slash, and one extension, as in \"handbook/wire-lag.html\"")
		case reserved(stem):
			return bad("%q is the name of a device on Windows; choose another", stem)
		}
	}
	return nil
}

// only reports whether s is not empty and has no characters but a to z, 0 to 9 and those in also.
func only(s, also string) bool {
	for i := range len(s) {
		if c := s[i]; (c < 'a' || c > 'z') && (c < '0' || c > '9') && strings.IndexByte(also, c) < 0 {
			return false
		}
	}
	return s != ""
}

// reserved reports whether Windows keeps the name for a device, whatever the extension ("Naming Files,
// Paths, and Namespaces" in the documentation of the Windows API, from memory, place not seen).
func reserved(stem string) bool {
	if len(stem) == 4 && (stem[:3] == "com" || stem[:3] == "lpt") {
		return stem[3] >= '0' && stem[3] <= '9'
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul"}, stem)
}
