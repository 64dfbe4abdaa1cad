package diag

// ID names a kind of message for tests and for whoever answers one. A sentence may
// be put better; its ID stays. Nothing prints it.
type ID string

// Files and what they are called.
const (
	FileMissing ID = "file-missing"
	FileLarge   ID = "file-large"
	FileText    ID = "file-text" // bytes that no text holds
	FileName    ID = "file-name"
	FilePlace   ID = "file-place" // nothing of its kind belongs there
	FileLink    ID = "file-link"
	FileMany    ID = "file-many"
	NotListed   ID = "not-listed" // there is more of it
	YAML        ID = "yaml"
	WorkEntry   ID = "work-entry"
	TermEntry   ID = "term-entry"
	FrontMatter ID = "front-matter"
	PageTaken   ID = "page-taken"
	PageAlias   ID = "page-alias"
)

// Tables and calculators.
const (
	TableRead          ID = "table-read"
	TableWork          ID = "table-work"
	TableEmptied       ID = "table-emptied"
	TableUnread        ID = "table-unread"
	TableKey           ID = "table-key"
	TableStale         ID = "table-stale"  // a cut that counts no more
	TablesUnfit        ID = "tables-unfit" // calculators cannot use them
	RowGone            ID = "row-gone"
	RuleFault          ID = "rule-fault"
	CalculatorDefaults ID = "calculator-defaults"
	CalculatorWork     ID = "calculator-work"
)

// A shop's folder.
const (
	ShopSetting  ID = "shop-setting"
	ShopPlace    ID = "shop-place" // where a page of the shop's stands
	ShopPiece    ID = "shop-piece"
	DrawingRead  ID = "drawing-read"
	DrawingTaken ID = "drawing-taken"
	Drawings     ID = "drawings-large"
	DrawingWords ID = "drawing-words"
)

// Pages.
const (
	ShortAnswer       ID = "short-answer"
	HeadingTitle      ID = "heading-title"
	AnchorTwice       ID = "anchor-twice"
	HTML              ID = "html"
	Picture           ID = "picture"
	LinkRead          ID = "link-read"
	LinkOut           ID = "link-out"
	LinkPage          ID = "link-page"
	LinkAnchor        ID = "link-anchor"
	Citation          ID = "citation"
	Result            ID = "result"
	LintAnswer        ID = "lint-answer"
	Lexer             ID = "lexer"
	Blocks            ID = "blocks-many"
	BlockUnknown      ID = "block-unknown"
	BlockLine         ID = "block-line"
	BlockArgument     ID = "block-argument"
	BlockEmpty        ID = "block-empty"
	CalculatorUnknown ID = "calculator-unknown"
	InputUnknown      ID = "input-unknown"
	InputTwice        ID = "input-twice"
	InputValue        ID = "input-value"
	AnswerUnknown     ID = "answer-unknown"
	AnswerOther       ID = "answer-other" // the page says another value
	AnswerRead        ID = "answer-read"
	AnswerNone        ID = "answer-none" // it does not apply
	ExampleTwice      ID = "example-twice"
	FigureNone        ID = "figure-none"
	PictureUnknown    ID = "picture-unknown"
	Formula           ID = "formula"
	Program           ID = "program"
	TableUnknown      ID = "table-unknown"
	ColumnUnknown     ID = "column-unknown"
	TableRows         ID = "table-rows"
)

// Lints: a page answers them by these names in its front matter.
const (
	LintSentence ID = "sentence"
	LintFigure   ID = "figure"
	LintSource   ID = "source"
	LintCaution  ID = "caution"
	LintTerm     ID = "term"
	LintNumber   ID = "number"
	LintCite     ID = "cite"
	LintPractice ID = "practice"
	LintHeading  ID = "heading"
)
