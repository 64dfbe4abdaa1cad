package book

// digest is nothing in the browser, which has no SHA-256: a row of the device that
// holds one against the handbook's is refused there, with the reason.
func digest(*Row, []string) string { return "" }
