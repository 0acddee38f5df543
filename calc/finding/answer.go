package finding

// Answer is what people said to a question: silence is not no.
type Answer uint8

// Answers.
const (
	NotAsked Answer = iota
	Yes
	No
	NotKnown // asked, and nobody knows
)
