// Package words tells codes and typed arguments to a reader: sentences for the
// technician and for the customer, from texts that stand in a folder for each
// language. It judges nothing. README.md says how texts are written.
//
// What is to be told is a Said; who tells it, in one language and units and to one
// audience, is a Teller. Texts are compiled when they are first needed.
package words

import (
	"embed"
	"sync"
)

//go:embed */*.yaml
var files embed.FS

// Default is the language of a visit that asks for none, or for one that has no
// texts.
const Default = "en"

// embedded are the languages of this program. Texts that cannot be compiled are a
// mistake in the program, which its tests find.
var embedded = sync.OnceValue(func() *library {
	l, err := readLibrary(files)
	if err != nil {
		panic(err)
	}
	return l
})

// Languages lists the languages that have texts, by their BCP 47 tags.
func Languages() []string { return embedded().languages() }

// Tongues lists the languages and, beside them, the regions that have words of their
// own: es, es-MX.
func Tongues() []string { return embedded().tongues() }

// Spoken tells whether a tag's language has texts; another one's reader is told in the
// default language.
func Spoken(tag string) bool { return tag == "" || embedded().speaks(tag) }

// In gives the texts of a language as they are written; those of the default one
// where the language has none. Whoever tells them asks a Teller.
func In(tag string) *Catalogue { return embedded().locale(tag).texts.written }

// Reader is who reads what is told, and in which units; in the zero value the
// default language and units as read.
type Reader struct {
	Language         string // BCP 47 tag
	CustomerLanguage string // of what is said to the customer; "" is Language
	Units            Units
}

// Tellers gives the one who tells the technician and the one who tells the customer.
func (r Reader) Tellers() (technician, customer *Teller) { return embedded().tellers(r) }
