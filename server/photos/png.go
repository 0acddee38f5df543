package photos

import (
	"encoding/binary"
	"hash/crc32"
	"strings"
)

// pngSignature begins every PNG file (W3C PNG, 3rd edition, 5.2).
const pngSignature = "\x89PNG\r\n\x1a\n"

// pngKept are the chunks that show the picture (11.2, 11.3), with how many bytes each has
// at most.
var pngKept = map[string]int{
	"IHDR": 13, "PLTE": 3 * 256, "IDAT": MaxBytes, "IEND": 0,
	"tRNS": 256, "bKGD": 6, "gAMA": 4, "cHRM": 32, "sBIT": 4, "sRGB": 1, "cICP": 4, "pHYs": 9,
	"iCCP": 64 << 10, // it is compressed: a larger one is no profile
}

// bitDepths are those that each color type has (11.2.1, table 12).
var bitDepths = map[byte]string{0: "\x01\x02\x04\x08\x10", 2: "\x08\x10", 3: "\x01\x02\x04\x08", 4: "\x08\x10", 6: "\x08\x10"}

// cleanPNG copies of a PNG file the chunks that show the picture, as one that stands
// still, and which side is up.
func cleanPNG(sent []byte) ([]byte, About, error) {
	about, rest, kept, first := About{}, sent[len(pngSignature):], make([]byte, 0, len(sent)+64), ""
	orientation, data := uint16(0), 0
	for name := ""; name != "IEND"; {
		of, chunk, content, err := pngChunk(rest)
		if err != nil {
			return nil, about, err
		}
		name, rest = of, rest[len(chunk):]
		if first == "" {
			if first = name; name != "IHDR" {
				return nil, about, bad("the PNG file does not begin with its header")
			}
			if err := about.pngHeader(content); err != nil {
				return nil, about, err
			}
		} else if name == "IHDR" {
			return nil, about, bad("the PNG file has two headers")
		}
		limit, shows := pngKept[name]
		switch {
		case name == "eXIf":
			orientation = about.removedEXIF(content)
		case shows && len(content) <= limit:
			if name == "IDAT" {
				data += len(content)
			}
			if name == "IEND" {
				kept = appendEXIF(kept, orientation)
			}
			kept = append(kept, chunk...)
		case name[0] >= 'a': // one that may be left out (5.4)
			about.removed(content)
		default:
			return nil, about, bad("the PNG file has a chunk %q that no photo has", name)
		}
	}
	if data == 0 {
		return nil, about, bad("a PNG file without a picture")
	}
	if len(rest) > 0 {
		about.removed(rest)
	}
	return append([]byte(pngSignature), kept...), about, nil
}

// pngChunk reads a chunk (5.3) and holds it to its checksum.
func pngChunk(b []byte) (name string, chunk, content []byte, err error) {
	if len(b) < 12 {
		return "", nil, nil, bad("the PNG file ends before its picture does")
	}
	n := binary.BigEndian.Uint32(b)
	if uint64(n)+12 > uint64(len(b)) {
		return "", nil, nil, bad("the PNG file ends before its picture does")
	}
	chunk = b[:n+12]
	name, content = string(chunk[4:8]), chunk[8:n+8]
	for _, c := range name {
		if (c|0x20) < 'a' || (c|0x20) > 'z' {
			return "", nil, nil, bad("the PNG file has a chunk without a name")
		}
	}
	if crc32.ChecksumIEEE(chunk[4:n+8]) != binary.BigEndian.Uint32(chunk[n+8:]) {
		return "", nil, nil, bad("a chunk of the PNG file fails its checksum")
	}
	return name, chunk, content, nil
}

func (a *About) pngHeader(b []byte) error {
	if len(b) != 13 {
		return bad("the PNG file has no header that can be read")
	}
	width, height := binary.BigEndian.Uint32(b), binary.BigEndian.Uint32(b[4:])
	if err := badSize(int(width), int(height)); err != nil {
		return err
	}
	a.Width, a.Height = int(width), int(height)
	if !strings.Contains(bitDepths[b[9]], string(b[8:9])) || b[10] != 0 || b[11] != 0 || b[12] > 1 {
		return bad("the PNG file has no header that can be read")
	}
	return nil
}

func appendEXIF(to []byte, orientation uint16) []byte {
	tiff := onlyOrientation(orientation)
	if tiff == nil {
		return to
	}
	to = binary.BigEndian.AppendUint32(to, uint32(len(tiff)))
	from := len(to)
	to = append(append(to, "eXIf"...), tiff...)
	return binary.BigEndian.AppendUint32(to, crc32.ChecksumIEEE(to[from:]))
}
