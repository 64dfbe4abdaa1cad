package source

import (
	"errors"
	"io/fs"
	"path"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"unicode/utf8"

	"kerfbook/site/diag"
	"kerfbook/wasm/spell"
)

// Shop is shop.yaml: what a shop's edition says of itself and what it leaves out.
type Shop struct {
	Owner     string     `yaml:"owner"`
	Title     string     `yaml:"title"`
	Document  string     `yaml:"document"`
	Scheme    string     `yaml:"scheme"` // stands before each sheet's number
	Revision  string     `yaml:"revision"`
	Date      string     `yaml:"date"` // ISO 8601 day
	Language  string     `yaml:"language"`
	Creator   string     `yaml:"creator"`
	Approvals []Approval `yaml:"approvals"`
	Units     string     `yaml:"units"`     // metric or inch: what a reader sees first
	Currency  string     `yaml:"currency"`  // as it stands after an amount
	Rates     Rates      `yaml:"rates"`     // in that currency
	Machines  []string   `yaml:"machines"`  // cards in use; none listed: all
	LeaveOut  []string   `yaml:"leave-out"` // chapters, by the name of their folder without its number
}

// Approval is one line of the approvals in the title block.
type Approval struct {
	Role string `yaml:"role"`
	By   string `yaml:"by"`
	Date string `yaml:"date"`
}

// Rates are prices a shop states once; nil where it keeps the handbook's.
type Rates struct {
	MachineHour  *float64 `yaml:"machine-hour"`
	WorkHour     *float64 `yaml:"work-hour"`
	WireKilogram *float64 `yaml:"wire-kilogram"`
	ResinCharge  *float64 `yaml:"resin-charge"`
}

// LeftOut is a chapter that the shop's edition does not carry.
type LeftOut struct {
	Slug, Title string
	Pages       []*Page
}

// ShopDir is how the shop's folder is called in messages and in Texts, whatever
// its own name is.
const ShopDir = "shop/"

// The most a shop's folder may hold: more is a mistake, not a process guide.
const (
	maxShopFiles  = 2000
	maxShopBytes  = 32 << 20
	maxShopFigure = 1 << 20
	maxWord       = 160 // characters of what the title block prints
	maxPrice      = 1_000_000_000
	mostStrange   = 10 // files without a place that are told one by one
	mostSaid      = 20 // messages of one sort
)

// shopFiles says what stands where in a shop's folder.
const shopFiles = "a shop's folder holds shop.yaml, rules.csv, bibliography.yaml, glossary.yaml, data/*.csv, pages/*.md and figures/*.svg"

// openShop looks at the shop's folder as a whole: what does not belong there,
// leads out of it or is no plain file is said, and is not read.
func (l *loader) openShop() {
	l.figures = map[string]string{}
	n, strangers := 0, 0
	err := fs.WalkDir(l.shop, ".", func(name string, d fs.DirEntry, err error) error {
		n++
		switch {
		case n > maxShopFiles:
			l.problem(diag.FileMany, ShopDir, 0, 0, "the shop's folder holds more than "+strconv.Itoa(maxShopFiles)+" files: is it the right folder? "+shopFiles)
			l.tooMuch = true
			return fs.SkipAll
		case strangers == mostStrange:
			l.problem(diag.NotListed, ShopDir, 0, 0, "more files have no place here: is it the right folder? "+shopFiles)
			l.tooMuch = true
			return fs.SkipAll
		case err != nil && name == ".":
			return err
		case err != nil:
			l.problem(diag.FileMissing, ShopDir+name, 0, 0, "this cannot be read: "+reason(err))
			return nil
		case name == ".":
			return nil
		case junk(d.Name()):
			if d.IsDir() {
				return fs.SkipDir // a version control's own
			}
			return nil
		}
		ok, err := l.shopFile(name, d)
		if !ok {
			strangers++
		}
		if l.shopBytes > maxShopBytes {
			l.problem(diag.FileLarge, ShopDir, 0, 0, "the files of the shop's folder are larger than 32 MB together: is it the right folder?")
			l.tooMuch = true
			return fs.SkipAll
		}
		return err
	})
	if err != nil {
		l.problem(diag.FileMissing, ShopDir, 0, 0, "the shop's folder cannot be read: "+reason(err))
	}
	if l.tooMuch { // of a wrong folder one message is enough
		l.shopHas, l.shopData, l.shopPages = nil, nil, nil
	}
	slices.Sort(l.shopData)
	slices.Sort(l.shopPages)
}

func reason(err error) string {
	var pe *fs.PathError
	if errors.As(err, &pe) {
		return pe.Err.Error()
	}
	return err.Error()
}

// junk is what systems and programs leave in a folder.
func junk(name string) bool {
	return strings.HasPrefix(name, ".") || strings.HasPrefix(name, "~$") || strings.HasSuffix(name, "~") || strings.EqualFold(name, "thumbs.db") || strings.EqualFold(name, "desktop.ini")
}

// shopFile notes a file where it belongs; ok is false for what has no place.
func (l *loader) shopFile(name string, d fs.DirEntry) (ok bool, err error) {
	dir, file := path.Split(name)
	say := func(id diag.ID, what string) { l.problem(id, ShopDir+name, 0, 0, what) }
	if d.IsDir() {
		if !slices.Contains([]string{"data", "pages", "figures"}, name) {
			say(diag.FilePlace, "a folder of this name has no place here: "+shopFiles)
			return false, fs.SkipDir
		}
		return true, nil
	}
	if what := strangeName(file); what != "" {
		say(diag.FileName, what)
		return false, nil
	}
	info, err := fs.Stat(l.shop, name) // follows a link, but not out of the folder
	switch {
	case err != nil && d.Type()&fs.ModeSymlink != 0:
		say(diag.FileLink, "this link leads out of the shop's folder, in a circle or to nothing: put the file itself here")
		return false, nil
	case err != nil:
		say(diag.FileMissing, "this cannot be read: "+reason(err))
		return false, nil
	case info.IsDir():
		say(diag.FileLink, "this link leads to a folder: put the files themselves here")
		return false, nil
	case !info.Mode().IsRegular():
		say(diag.FilePlace, "this is no plain file")
		return false, nil
	}
	l.shopBytes += info.Size()
	switch ext := path.Ext(file); {
	case dir == "" && slices.Contains([]string{"shop.yaml", "bibliography.yaml", "glossary.yaml"}, file):
		l.shopHas = append(l.shopHas, file)
	case dir == "" && file == "rules.csv", dir == "data/" && ext == ".csv":
		l.shopData = append(l.shopData, name)
	case dir == "pages/" && ext == ".md":
		l.shopPages = append(l.shopPages, name)
	case dir == "figures/" && ext == ".svg":
		l.figure(name, info.Size())
	case dir == "" && (ext == ".md" || ext == ".txt"):
		// notes to oneself
	default:
		say(diag.FilePlace, "a file of this name has no place here: "+shopFiles)
		return false, nil
	}
	return true, nil
}

// strangeName says why a file's name is not used; "" for a name like any other.
func strangeName(file string) string {
	stem, _, _ := strings.Cut(strings.ToLower(file), ".")
	switch {
	case !utf8.ValidString(file) || strings.ContainsFunc(file, spoils) || strings.ContainsAny(file, "\\:*?\"<>|\n\t"):
		return "a file's name is made of letters, digits, hyphens and spaces: give it another"
	case windowsOwn(stem):
		return "Windows keeps the name " + spell.Quote(stem) + " for a device: give the file another"
	}
	return ""
}

// windowsOwn are names that Windows keeps, whatever their ending.
func windowsOwn(stem string) bool {
	if len(stem) == 4 && (stem[:3] == "com" || stem[:3] == "lpt") {
		return stem[3] >= '0' && stem[3] <= '9'
	}
	return slices.Contains([]string{"con", "prn", "aux", "nul"}, stem)
}

// readShop reads shop.yaml and lays it over the edition's own words.
func (l *loader) readShop() {
	s := &Shop{}
	l.c.Shop = s
	if !slices.Contains(l.shopHas, "shop.yaml") {
		if !l.tooMuch {
			l.problem(diag.FileMissing, ShopDir+"shop.yaml", 0, 0, "the file is missing, or cannot be used: it says at least owner:, revision: and date:")
		}
		return
	}
	text, ok := l.readFrom(l.shop, "shop.yaml", ShopDir)
	if !ok || !l.decode(ShopDir+"shop.yaml", text, 0, s) {
		return
	}
	say := func(key, what string) {
		at, end := keyAt(text, key)
		l.problem(diag.ShopSetting, ShopDir+"shop.yaml", at, end, what)
	}
	for _, must := range []struct{ key, value string }{{"owner", s.Owner}, {"revision", s.Revision}, {"date", s.Date}} {
		if strings.TrimSpace(must.value) == "" {
			say(must.key, "shop.yaml wants "+must.key+":, which the title block prints")
		}
	}
	for _, word := range []struct{ key, value string }{{"owner", s.Owner}, {"title", s.Title}, {"document", s.Document}, {"scheme", s.Scheme},
		{"revision", s.Revision}, {"language", s.Language}, {"creator", s.Creator}} {
		if utf8.RuneCountInString(word.value) > maxWord || strings.ContainsAny(word.value, "\n\r\t") {
			say(word.key, "what stands in the title block is one line of "+strconv.Itoa(maxWord)+" characters at most")
		}
	}
	day := regexp.MustCompile(`^\d{4}-(0[1-9]|1[0-2])-(0[1-9]|[12]\d|3[01])$`)
	if s.Date != "" && !day.MatchString(s.Date) {
		say("date", "date is a day as 2026-11-25; this is "+spell.Quote(s.Date))
	}
	if s.Units != "" && s.Units != "metric" && s.Units != "inch" {
		say("units", "units is metric or inch; this is "+spell.Quote(s.Units))
	}
	for _, rate := range []struct {
		key   string
		value *float64
	}{{"machine-hour", s.Rates.MachineHour}, {"work-hour", s.Rates.WorkHour}, {"wire-kilogram", s.Rates.WireKilogram}, {"resin-charge", s.Rates.ResinCharge}} {
		if rate.value != nil && !(*rate.value >= 0 && *rate.value <= maxPrice) {
			say(rate.key, "a price is a number from 0 to "+strconv.Itoa(maxPrice)+"; this is "+strconv.FormatFloat(*rate.value, 'g', 6, 64))
			*rate.value = 0
		}
	}
	if len([]rune(s.Currency)) > 8 || s.Currency != strings.TrimSpace(s.Currency) || strings.ContainsAny(s.Currency, "\t\n\r<>,;\"=0123456789") {
		say("currency", "currency is a short word or sign, as it stands after an amount: kr, for example; this is "+spell.Quote(s.Currency))
		s.Currency = ""
	}
	e := &l.c.Edition
	for _, over := range []struct {
		own  string
		into *string
	}{{s.Owner, &e.Owner}, {s.Title, &e.Title}, {s.Document, &e.Document}, {s.Scheme, &e.Scheme}, {s.Revision, &e.Revision}, {s.Date, &e.Date}, {s.Language, &e.Language}, {s.Creator, &e.Creator}} {
		if over.own != "" {
			*over.into = over.own
		}
	}
	e.Approval = "Not yet approved"
	var approvals []string
	for _, a := range s.Approvals {
		if a.Role == "" {
			say("approvals", "an approval has role:, and perhaps by: and date:")
		}
		if utf8.RuneCountInString(a.Role+a.By+a.Date) > maxWord || strings.ContainsAny(a.Role+a.By+a.Date, "\n\r\t") {
			say("approvals", "an approval is one line of "+strconv.Itoa(maxWord)+" characters at most")
		}
		approvals = append(approvals, strings.Join(strings.Fields(a.Role+" "+a.By+" "+a.Date), " "))
	}
	if len(approvals) > 0 {
		e.Approval = strings.Join(approvals, "; ")
	}
}

// shopWords adds the shop's own works and terms.
func (l *loader) shopWords() {
	if slices.Contains(l.shopHas, "bibliography.yaml") {
		var works struct{ Works []Work }
		if text, ok := l.readFrom(l.shop, "bibliography.yaml", ShopDir); ok && l.decode(ShopDir+"bibliography.yaml", text, 0, &works) {
			l.checkKeys(works.Works, ShopDir)
			l.c.Works = append(l.c.Works, works.Works...)
		}
	}
	if slices.Contains(l.shopHas, "glossary.yaml") {
		var terms struct{ Terms []Term }
		if text, ok := l.readFrom(l.shop, "glossary.yaml", ShopDir); ok && l.decode(ShopDir+"glossary.yaml", text, 0, &terms) {
			l.checkTerms(terms.Terms, ShopDir)
			l.c.Terms = append(l.c.Terms, terms.Terms...)
		}
	}
}
