package app

import (
	"bytes"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"

	"gaugebook.dev/gateway/strictjson"
)

// csvFile is a file of comma-separated values (RFC 4180), of vehicles, tires or visits: its
// first column of an id says which.
type csvFile struct {
	openedFile
	shop    string
	kind    csvKind
	header  []string
	comma   rune
	content mark // behind the header

	in    *csv.Reader
	limit *limited
	base  mark
	ahead *csvRow // that was read already
}

// csvRow is one row.
type csvRow struct {
	line   int
	values []string
	wrong  string // why it is none; "": it is one
	behind mark
}

// mostRows is of how many rows one visit is made at most.
const mostRows = 200

// openCSV reads the header.
func openCSV(of openedFile, shop string) (source, error) {
	f := &csvFile{openedFile: of, shop: shop, comma: ','}
	err := f.readHeader()
	if err != nil {
		return nil, errors.Join(inputError{fmt.Errorf("%s: %w", of.Name(), err)}, of.Close())
	}
	return f, nil
}

func (f *csvFile) readHeader() error {
	begin := make([]byte, 1<<12)
	n, err := f.ReadAt(begin, 0)
	if err != nil && !errors.Is(err, io.EOF) {
		return err
	}
	first, _, _ := bytes.Cut(begin[:n], []byte{'\n'})
	for _, c := range []rune{';', '\t'} { // as spreadsheets write where numbers have a comma
		if bytes.ContainsRune(first, c) && !bytes.ContainsRune(first, ',') {
			f.comma = c
		}
	}
	if err := f.from(mark{}); err != nil {
		return err
	}
	row, err := f.read()
	if err == nil && row.wrong != "" {
		err = errors.New(row.wrong)
	}
	if err != nil {
		return fmt.Errorf("line 1 has to name the columns: %w", err)
	}
	f.content, f.header = row.behind, row.values
	for i, name := range f.header {
		f.header[i] = strings.ToLower(strings.TrimSpace(strings.TrimPrefix(name, "\ufeff")))
	}
	return f.known()
}

// known finds out which kind of records the columns are of, and refuses one that is not known.
func (f *csvFile) known() error {
	i := slices.IndexFunc(csvKinds, func(k csvKind) bool { return slices.Contains(f.header, k.columns[0]) })
	if i < 0 {
		return errors.New("none of the columns visit, vehicle and tire is there")
	}
	f.kind = csvKinds[i]
	for n, name := range f.header {
		switch {
		case !slices.Contains(f.kind.columns, name):
			return fmt.Errorf("there is no column %q; of a %s there are %s", name, f.kind.columns[0], strings.Join(f.kind.columns, ", "))
		case slices.Contains(f.header[:n], name):
			return fmt.Errorf("two columns are %q", name)
		}
	}
	return nil
}

func (f *csvFile) from(at mark) error {
	at = mark{max(at.Offset, f.content.Offset), max(at.Lines, f.content.Lines)}
	_, err := f.Seek(at.Offset, io.SeekStart)
	f.limit = &limited{from: f.File}
	f.in, f.base, f.ahead = csv.NewReader(f.limit), at, nil
	f.in.Comma, f.in.FieldsPerRecord, f.in.TrimLeadingSpace = f.comma, -1, f.comma != '\t'
	return err
}

// limited is a file of which a row takes so many bytes at most: a quote that is never closed
// does not take the rest of it into memory.
type limited struct {
	from io.Reader
	left int
}

func (l *limited) Read(p []byte) (int, error) {
	if l.left <= 0 {
		return 0, errLongRow
	}
	n, err := l.from.Read(p)
	l.left -= n
	return n, err
}

var errLongRow = errors.New("a row is too long: a quote is opened and not closed")

// read reads a row.
func (f *csvFile) read() (csvRow, error) {
	f.limit.left = strictjson.MaxBytes
	values, err := f.in.Read()
	wrong, isRow := errors.AsType[*csv.ParseError](err)
	switch {
	case errors.Is(err, errLongRow):
		return csvRow{}, inputError{fmt.Errorf("%s, behind line %d: %w", f.Name(), f.base.Lines, err)}
	case err != nil && !isRow:
		return csvRow{}, err
	}
	row := csvRow{values: values, behind: mark{Offset: f.base.Offset + f.in.InputOffset()}}
	if isRow {
		row.line, row.wrong = f.base.Lines+wrong.StartLine, fmt.Sprintf("column %d: %v", wrong.Column, wrong.Err)
		row.behind.Lines = f.base.Lines + wrong.Line
		return row, nil
	}
	first, _ := f.in.FieldPos(0)
	last, _ := f.in.FieldPos(len(values) - 1)
	row.line = f.base.Lines + first
	row.behind.Lines = f.base.Lines + last + strings.Count(values[len(values)-1], "\n")
	if f.header != nil && len(values) > len(f.header) {
		row.wrong = fmt.Sprintf("%d values, and %d columns are named", len(values), len(f.header))
	}
	return row, nil
}

// next gives the next record: of a visit all rows that stand together.
func (f *csvFile) next() (row, mark, error) {
	first := f.ahead
	f.ahead = nil
	if first == nil {
		r, err := f.read()
		if err != nil {
			return row{}, mark{}, err
		}
		first = &r
	}
	together, behind := []csvRow{*first}, first.behind
	for f.kind.many && first.wrong == "" {
		r, err := f.read()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return row{}, mark{}, err
		}
		if r.wrong != "" || f.id(r) != f.id(*first) {
			f.ahead = &r
			break
		}
		behind = r.behind
		together = append(together[:min(len(together), mostRows)], r)
	}
	return f.record(together), behind, nil
}

// id is the value of the column that names the record.
func (f *csvFile) id(r csvRow) string { return f.cells(r).text(f.kind.columns[0]) }

func (f *csvFile) cells(r csvRow) *cells {
	c := &cells{shop: f.shop, line: r.line, values: map[string]string{}}
	for i, v := range r.values {
		if i < len(f.header) {
			c.values[f.header[i]] = strings.TrimSpace(v)
		}
	}
	return c
}

// record makes a record of rows.
func (f *csvFile) record(together []csvRow) row {
	out := row{line: together[0].line, text: f.text(together)}
	if wrong := together[0].wrong; wrong != "" {
		out.reasons = []string{wrong}
		return out
	}
	if len(together) > mostRows {
		out.reasons = []string{fmt.Sprintf("more than %d rows", mostRows)}
		return out
	}
	var all []*cells
	for _, r := range together {
		all = append(all, f.cells(r))
	}
	if all[0].text(f.kind.columns[0]) == "" {
		all[0].wrongf(f.kind.columns[0], "missing")
	}
	out.record = f.kind.record(all)
	for _, c := range all {
		for _, reason := range c.reasons {
			if !slices.Contains(out.reasons, reason) {
				out.reasons = append(out.reasons, reason)
			}
		}
	}
	return out
}

// text is rows as they stand in the file, or as good.
func (f *csvFile) text(together []csvRow) string {
	var text strings.Builder
	to := csv.NewWriter(&text)
	to.Comma = f.comma
	for _, r := range together {
		_ = to.Write(r.values) // a builder takes all
	}
	to.Flush()
	return strings.TrimSuffix(text.String(), "\n")
}
