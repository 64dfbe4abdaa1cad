package calc

import (
	"strconv"
	"strings"

	"kerfbook/wasm/book"
	"kerfbook/wasm/unit"
)

// SizeStep returns the column of a table by sizes that holds a size in mm: "to_30_um"
// holds what is above the column before it, up to and with 30; "" beyond the last.
func SizeStep(t *book.Table, size unit.Length) string {
	for _, c := range t.Columns {
		text, _ := strings.CutPrefix(c, "to_")
		text, ok := strings.CutSuffix(text, "_um")
		if to, err := strconv.Atoi(text); ok && err == nil && float64(size) <= float64(to)+1e-9 {
			return c
		}
	}
	return ""
}

// bySize returns a row and its number for a size; an empty row where there is none.
func bySize(b *book.Book, table, key string, size unit.Length) (book.Row, float64) {
	r, _ := b.Find(table, key)
	if r.Table != "" {
		if c := SizeStep(b.Table(table), size); c != "" && r.Cell(c) != "" {
			return r, r.Num(c)
		}
	}
	return book.Row{}, 0
}

// Class returns the limits of a tolerance class for a size, both in mm from the
// size, and the rows that they come from: the class "H7" of 40 mm is 0 and 0.025.
// Fundamental deviations, grades and the rules for holes are those of ISO 286-1, from
// memory, place not seen. A class that is not held is a fault in words.
func Class(b *book.Book, name string, size unit.Length) (low, high float64, rows []book.Row, fault string) {
	letters := strings.TrimRight(name, "0123456789")
	digits := name[len(letters):]
	letter, hole := lower(letters), letters < "a"
	key := letter
	switch {
	case letter == "js":
		key = "h"
	case hole && letter == "j":
		key = name
	case letter == "j":
		key = letter + strings.Replace(digits, "5", "6", 1)
	}
	n, _ := strconv.Atoi(digits)
	row, v := bySize(b, "deviations", key, size)
	grade, width := bySize(b, "itgrades", "IT"+digits, size)
	if row.Table == "" || grade.Table == "" || n < 5 || n > 11 || size < 1 || letters != letter && letters != upper(letters) || hole && letter == "k" && n > 8 && size > 3 {
		return 0, 0, nil, quote(name) + " has no limits here for this size: classes are held from D to S and d to s, grades 5 to 11, 1 to 500 mm"
	}
	at := v // where the zone begins
	switch {
	case letter == "js":
		at = -width / 2
	case letter <= "h" && hole:
		at = -v
	case letter <= "h", hole && letter == "j":
		at = v - width
	case letter == "k" && n > 7 && !hole:
		at = 0
	case hole:
		// A hole's upper deviation is that of the shaft turned round, and where it is
		// paired with a shaft one grade finer, the difference of the two grades more.
		switch {
		case size <= 3:
		case letter == "n" && n > 8:
			v = 0
		case name == "M6" && size > 250 && size <= 315:
			v = 9 // the standard's one exception
		case n <= 7, n == 8 && letter <= "n":
			_, finer := bySize(b, "itgrades", "IT"+strconv.Itoa(n-1), size)
			v -= width - finer
		}
		at = -v - width
	}
	return at / 1000, (at + width) / 1000, []book.Row{row, grade}, ""
}

// upper and lower change the letters a to z alone.
func upper(s string) string { return turned(s, 'a') }

func lower(s string) string { return turned(s, 'A') }

func turned(s string, from byte) string {
	b := []byte(s)
	for i, c := range b {
		if c >= from && c < from+26 {
			b[i] = c ^ 0x20
		}
	}
	return string(b)
}
