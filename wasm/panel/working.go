package panel

// Working writes a line of working as the text of the handbook sets mathematics:
// letters that stand for something slanted, their indices set low, and a true
// minus. Of what numbers were put in for letters only the minus is set, for there
// a letter is a unit. What comes out is markup.
func Working(text string, letters bool) string {
	var b builder
	working(&b, text, letters)
	return b.String()
}

func working(b *builder, text string, letters bool) {
	sign := []rune(text)
	at := func(i int) rune {
		if i < 0 || i >= len(sign) {
			return ' '
		}
		return sign[i]
	}
	for i := 0; i < len(sign); {
		end := i + 1
		switch c := sign[i]; {
		case c == '-' && opens(at(i-1)) && (at(i+1) == ' ' || at(i+1) == '(' || digit(at(i+1)) || letter(at(i+1))):
			b.raw("−")
		case letter(c):
			for letter(at(end)) {
				end++
			}
			if !letters || end > i+1 || c == 'π' || c == 'Σ' || c == 'Δ' || article(sign[i:]) {
				b.text(string(sign[i:end]))
				break
			}
			b.el("i", "", string(c))
			if at(end) != '_' || !letter(at(end+1)) {
				break
			}
			low := end + 1
			for end = low + 1; letter(at(end)) || digit(at(end)); {
				end++
			}
			b.el("sub", "", string(sign[low:end]))
		default:
			b.text(string(c))
		}
		i = end
	}
}

// letter knows those of formulas and their words, Latin and Greek; package unicode
// with all letters of the world would be a good part of the wasm.
func letter(c rune) bool { return c|32 >= 'a' && c|32 <= 'z' || c >= 'Α' && c <= 'ω' }

func digit(c rune) bool { return c >= '0' && c <= '9' }

// opens tells what a minus may follow: elsewhere a dash joins words.
func opens(c rune) bool {
	switch c {
	case ' ', '(', '^', '=', '×', '/':
		return true
	}
	return false
}

// article tells the word “a” from the letter: a word of three letters or more
// follows it that is no function.
func article(rest []rune) bool {
	if rest[0] != 'a' || len(rest) < 5 || rest[1] != ' ' {
		return false
	}
	end := 2
	for end < len(rest) && letter(rest[end]) {
		end++
	}
	switch string(rest[2:end]) {
	case "tan", "sin", "cos", "cot", "arctan", "arccos", "log", "inv":
		return false
	}
	return end >= 5
}
