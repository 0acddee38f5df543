package app

import (
	"bufio"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"gaugebook.dev/gateway/strictjson"

	"gaugebook.dev/server/book/rows"
)

// progressFile says how far a file is imported. It is there until the file is done.
type progressFile struct {
	mark
	name string

	Shop    string `json:"shop"`
	Epoch   string `json:"epoch"`   // of the book
	Size    int64  `json:"size"`    // of the file
	Changed int64  `json:"changed"` // when it was, in nanoseconds

	Taken    int   `json:"taken"`
	Repeated int   `json:"repeated"`
	Rejected int   `json:"rejected"`
	Rejects  int64 `json:"rejects"` // bytes of the file of rejects
}

// begin goes on with what an earlier run noted of the same file, shop and book, or begins anew.
func (im *importing) begin(epoch string) error {
	is, err := os.Stat(im.file)
	if err != nil {
		return err
	}
	im.done = progressFile{name: im.file + ".progress", Shop: im.shop, Epoch: epoch, Size: is.Size(), Changed: is.ModTime().UnixNano()}
	before := im.done
	data, err := os.ReadFile(im.done.name)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	same := err == nil && json.Unmarshal(data, &before) == nil &&
		before.Shop == im.done.Shop && before.Epoch == epoch && before.Size == im.done.Size && before.Changed == im.done.Changed
	if same {
		im.done = before
	}
	if im.rejects, err = os.OpenFile(im.file+".rejects", os.O_RDWR|os.O_CREATE, 0o600); err != nil {
		return err
	}
	if err := im.rejects.Truncate(im.done.Rejects); err != nil {
		return err
	}
	if _, err := im.rejects.Seek(im.done.Rejects, io.SeekStart); err != nil {
		return err
	}
	return im.from.from(im.done.mark)
}

// save notes how far the file is imported.
func (p *progressFile) save(rejects *os.File) error {
	var err error
	if p.Rejects, err = rejects.Seek(0, io.SeekCurrent); err != nil {
		return err
	}
	data, err := json.Marshal(p)
	if err != nil {
		return err
	}
	if err := os.WriteFile(p.name+".part", data, 0o600); err != nil {
		return err
	}
	return os.Rename(p.name+".part", p.name)
}

// end says what became of the file.
func (im *importing) end(out io.Writer) error {
	d := im.done
	sayf(out, "%s: %s taken, %d there already, %d rejected.", im.file, count(d.Taken, "record"), d.Repeated, d.Rejected)
	if err := os.Remove(d.name); err != nil {
		return err
	}
	if d.Rejected > 0 {
		return inputError{fmt.Errorf("what is wrong with the rejected stands in %s", im.rejects.Name())}
	}
	return os.Remove(im.rejects.Name())
}

// rejected is a record that was not taken, as a line of the rejects.
type rejected struct {
	Line    int      `json:"line"`
	Reasons []string `json:"reasons"`
	Text    string   `json:"text"`
}

// reject writes a record that was not taken.
func reject(to io.Writer, r row) error {
	encoder := json.NewEncoder(to)
	encoder.SetEscapeHTML(false)
	return encoder.Encode(rejected{r.line, r.reasons, strings.ToValidUTF8(r.text, "�")})
}

// openSource opens a file of records of a shop: CSV where its name says so, else JSON lines.
func openSource(name, shop string) (source, error) {
	file, err := os.Open(name)
	if err != nil {
		return nil, err
	}
	is, err := file.Stat()
	if err == nil && !is.Mode().IsRegular() {
		err = inputError{fmt.Errorf("%s is no file: what is imported is read again where it was broken off", name)}
	}
	if err != nil {
		return nil, errors.Join(err, file.Close())
	}
	of := openedFile{file, is.Size()}
	if strings.EqualFold(filepath.Ext(name), ".csv") {
		return openCSV(of, shop)
	}
	return &jsonLines{openedFile: of}, nil
}

// openedFile is a file that is read.
type openedFile struct {
	*os.File
	bytes int64
}

func (f openedFile) size() int64 { return f.bytes }

// jsonLines is a file of records, one a line.
type jsonLines struct {
	openedFile
	in *bufio.Reader
	at mark
}

func (l *jsonLines) from(at mark) error {
	_, err := l.Seek(at.Offset, io.SeekStart)
	l.in, l.at = bufio.NewReaderSize(l.File, 1<<16), at
	return err
}

func (l *jsonLines) next() (row, mark, error) {
	for {
		text, long, err := l.line()
		if err != nil && (!errors.Is(err, io.EOF) || text == "" && !long) {
			return row{}, l.at, err
		}
		l.at.Lines++
		text = strings.TrimSpace(text)
		if l.at.Lines == 1 {
			text = strings.TrimPrefix(text, "\ufeff") // as some programs begin a file
		}
		r := row{line: l.at.Lines, text: text}
		switch {
		case long:
			r.reasons = []string{fmt.Sprintf("the line is longer than %d bytes", strictjson.MaxBytes)}
		case text == "":
			continue
		default:
			r.record, r.reasons = readRecord(text)
		}
		return r, l.at, nil
	}
}

// line reads a line; of one that is too long only the beginning is kept.
func (l *jsonLines) line() (text string, long bool, err error) {
	var line []byte
	for {
		part, err := l.in.ReadSlice('\n')
		l.at.Offset += int64(len(part))
		if len(line)+len(part) <= strictjson.MaxBytes {
			line = append(line, part...)
		} else {
			line, long = line[:min(len(line), 1000)], true
		}
		if !errors.Is(err, bufio.ErrBufferFull) {
			return string(line), long, err
		}
	}
}

// readRecord reads a record as JSON.
func readRecord(text string) (*rows.Exported, []string) {
	record := &rows.Exported{}
	var reasons []string
	for _, p := range strictjson.Read([]byte(text), record) {
		p.Line = 0 // the reject says which line it is
		reasons = append(reasons, p.String())
	}
	return record, reasons
}
