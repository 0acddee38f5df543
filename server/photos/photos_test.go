package photos

import (
	"bytes"
	"encoding/base64"
	"encoding/binary"
	"errors"
	"hash/crc32"
	"image"
	"image/color"
	"image/jpeg"
	"image/png"
	"strings"
	"testing"

	"golang.org/x/image/webp"
)

// drawn is an invented picture: bands of color, so that a pixel that went wrong shows.
func drawn(width, height int) *image.NRGBA {
	img := image.NewNRGBA(image.Rect(0, 0, width, height))
	for y := range height {
		for x := range width {
			img.SetNRGBA(x, y, color.NRGBA{uint8(x * 7), uint8(y * 11), uint8(x ^ y), 255})
		}
	}
	return img
}

func aJPEG(t testing.TB, width, height int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := jpeg.Encode(&b, drawn(width, height), nil); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func aPNG(t testing.TB, width, height int) []byte {
	t.Helper()
	var b bytes.Buffer
	if err := png.Encode(&b, drawn(width, height)); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

// Pictures of one pixel, with loss and without; golang.org/x/image/webp decodes them.
func lossyWebP() []byte {
	return unbase64("UklGRiQAAABXRUJQVlA4IBgAAAAwAQCdASoBAAEAAwA0JaQAA3AA/vuUAAA=")
}

func losslessWebP() []byte { return unbase64("UklGRhoAAABXRUJQVlA4TA0AAAAvAAAAEAcQERGIiP4HAA==") }

func unbase64(text string) []byte {
	b, err := base64.StdEncoding.DecodeString(text)
	if err != nil {
		panic(err)
	}
	return b
}

// exif are EXIF data of a camera: which side is up, who took it, and where (CIPA DC-008).
func exif(order binary.AppendByteOrder, orientation uint16) []byte {
	b := []byte("MM\x00*")
	if order.String() == binary.LittleEndian.String() {
		b = []byte("II*\x00")
	}
	u16 := func(all ...uint16) {
		for _, v := range all {
			b = order.AppendUint16(b, v)
		}
	}
	u32 := func(all ...uint32) {
		for _, v := range all {
			b = order.AppendUint32(b, v)
		}
	}
	entry := func(tag, kind uint16, count uint32) {
		u16(tag, kind)
		u32(count)
	}
	u32(8)
	u16(3)
	entry(0x010f, 2, 6) // maker
	u32(50)
	entry(tagOrientation, 3, 1)
	u16(orientation, 0)
	entry(tagGPS, 4, 1)
	u32(56, 0)
	b = append(b, "Maker\x00"...)
	u16(1)
	entry(2, 5, 3) // latitude
	u32(74, 0, 52, 1, 31, 1, 12, 1)
	return b
}

// with puts segments behind the beginning of a JPEG file.
func with(file []byte, segments ...[]byte) []byte {
	out := bytes.Clone(file[:2])
	for _, s := range segments {
		out = append(out, s...)
	}
	return append(out, file[2:]...)
}

func jpegSegment(marker byte, content string) []byte {
	return appendSegment(nil, marker, []byte(content))
}

func pngChunkOf(name, content string) []byte {
	b := binary.BigEndian.AppendUint32(nil, uint32(len(content)))
	b = append(append(b, name...), content...)
	return binary.BigEndian.AppendUint32(b, crc32.ChecksumIEEE(b[4:]))
}

// behindHeader puts chunks behind the header of a PNG file.
func behindHeader(file []byte, chunks ...[]byte) []byte {
	const header = 8 + 12 + 13
	out := bytes.Clone(file[:header])
	for _, c := range chunks {
		out = append(out, c...)
	}
	return append(out, file[header:]...)
}

// extended makes an extended WebP file of a plain one of one pixel.
func extended(plain []byte, flags byte, before, behind []byte) []byte {
	body := appendChunk([]byte("WEBP"), "VP8X", []byte{flags, 0, 0, 0, 0, 0, 0, 0, 0, 0})
	body = append(append(append(body, before...), plain[12:]...), behind...)
	return append(binary.LittleEndian.AppendUint32([]byte("RIFF"), uint32(len(body))), body...)
}

const (
	secret = "SECRET-TEXT"
	script = "<script>alert(1)</script>" + secret
	place  = "<rdf exif:GPSLatitude='52,31N'/>" + secret
)

// What a photo is kept as: the same pixels by the standard library's decoders, and
// golang.org/x/image's, and nothing else of what was sent.
func TestWhatIsKept(t *testing.T) {
	xmp := "http://ns.adobe.com/xap/1.0/\x00" + place
	zip := "PK\x03\x04" + secret + "PK\x05\x06"
	plainJPEG, plainPNG := aJPEG(t, 40, 24), aPNG(t, 40, 24)
	for _, row := range []struct {
		name              string
		sent              []byte
		removed, location bool
		orientation       uint16
		mediaType         string
		keeps             string
	}{
		{"a JPEG", plainJPEG, false, false, 0, "image/jpeg", ""},
		{"with EXIF, big-endian", with(plainJPEG, jpegSegment(mAPP1, exifBegin+string(exif(binary.BigEndian, 6)))), true, true, 6, "image/jpeg", ""},
		{"with EXIF, little-endian", with(plainJPEG, jpegSegment(mAPP1, exifBegin+string(exif(binary.LittleEndian, 8)))), true, true, 8, "image/jpeg", ""},
		{"EXIF of an upright picture", with(plainJPEG, jpegSegment(mAPP1, exifBegin+string(exif(binary.BigEndian, 1)))), true, true, 0, "image/jpeg", ""},
		{"EXIF that cannot be read", with(plainJPEG, jpegSegment(mAPP1, exifBegin+"II*\x00\xff\xff\xff\x7f"+secret)), true, false, 0, "image/jpeg", ""},
		{"with XMP", with(plainJPEG, jpegSegment(mAPP1, xmp)), true, true, 0, "image/jpeg", ""},
		{"with a comment that is a page", with(plainJPEG, jpegSegment(0xfe, script)), true, false, 0, "image/jpeg", ""},
		{"with IPTC", with(plainJPEG, jpegSegment(0xed, "Photoshop 3.0\x00"+secret)), true, false, 0, "image/jpeg", ""},
		{"with a preview", with(plainJPEG, jpegSegment(mAPP0, "JFIF\x00\x01\x01\x01\x00\x48\x00\x48\x01\x01"+"\x01\x02\x03"+secret)), true, false, 0, "image/jpeg", "JFIF\x00\x01\x01\x01\x00\x48\x00\x48\x00\x00"},
		{"with a color profile", with(plainJPEG, jpegSegment(mAPP2, iccBegin+"\x01\x01profile")), false, false, 0, "image/jpeg", iccBegin + "\x01\x01profile"},
		{"with further pictures listed", with(plainJPEG, jpegSegment(mAPP2, "MPF\x00"+secret)), true, false, 0, "image/jpeg", ""},
		{"with an archive behind it", append(bytes.Clone(plainJPEG), zip...), true, false, 0, "image/jpeg", ""},
		{"with a film behind it", append(bytes.Clone(plainJPEG), "ftypmp4 GPSPosition"+secret...), true, true, 0, "image/jpeg", ""},

		{"a PNG", plainPNG, false, false, 0, "image/png", ""},
		{"PNG with EXIF", behindHeader(plainPNG, pngChunkOf("eXIf", string(exif(binary.BigEndian, 3)))), true, true, 3, "image/png", ""},
		{"PNG with texts", behindHeader(plainPNG, pngChunkOf("tEXt", "Comment\x00"+script), pngChunkOf("iTXt", place)), true, true, 0, "image/png", ""},
		{"PNG that moves", behindHeader(plainPNG, pngChunkOf("acTL", "\x00\x00\x00\x01\x00\x00\x00\x00")), true, false, 0, "image/png", ""},
		{"PNG with how fine it is", behindHeader(plainPNG, pngChunkOf("pHYs", "\x00\x00\x0b\x13\x00\x00\x0b\x13\x01")), false, false, 0, "image/png", "pHYs"},
		{"PNG with a profile that unfolds", behindHeader(plainPNG, pngChunkOf("iCCP", strings.Repeat("x", 1<<17))), true, false, 0, "image/png", ""},
		{"PNG with an archive behind it", append(bytes.Clone(plainPNG), zip...), true, false, 0, "image/png", ""},

		{"a WebP with loss", lossyWebP(), false, false, 0, "image/webp", ""},
		{"a WebP without", losslessWebP(), false, false, 0, "image/webp", ""},
		{"WebP with EXIF", extended(lossyWebP(), webpEXIF, nil, appendChunk(nil, "EXIF", exif(binary.LittleEndian, 6))), true, true, 6, "image/webp", ""},
		{"WebP with XMP", extended(losslessWebP(), 0x04, nil, appendChunk(nil, "XMP ", []byte(place))), true, true, 0, "image/webp", ""},
		{"WebP with a profile", extended(lossyWebP(), webpICC, appendChunk(nil, "ICCP", []byte("profile")), nil), false, false, 0, "image/webp", "profile"},
		{"WebP with what nobody knows", extended(lossyWebP(), 0, nil, appendChunk(nil, "JUNK", []byte(script))), true, false, 0, "image/webp", ""},
		{"WebP with an archive behind it", append(lossyWebP(), zip...), true, false, 0, "image/webp", ""},
	} {
		kept, about, err := Clean(row.sent)
		if err != nil {
			t.Errorf("%s: %v", row.name, err)
			continue
		}
		if about.MediaType != row.mediaType || about.MetadataRemoved != row.removed || about.LocationRemoved != row.location {
			t.Errorf("%s: %+v", row.name, about)
		}
		for _, gone := range []string{secret, "Maker", "GPS", "PK\x03\x04", "script"} {
			if bytes.Contains(kept, []byte(gone)) {
				t.Errorf("%s: the copy holds %q", row.name, gone)
			}
		}
		if !bytes.Contains(kept, []byte(row.keeps)) {
			t.Errorf("%s: the copy does not hold %q", row.name, row.keeps)
		}
		samePixels(t, row.name, row.sent, kept, about)
		if got := orientationOf(t, kept, row.mediaType); got != row.orientation {
			t.Errorf("%s: lies as %d, want %d", row.name, got, row.orientation)
		}
		again, about, err := Clean(kept)
		if err != nil || !bytes.Equal(again, kept) || about.LocationRemoved {
			t.Errorf("%s: the copy is cleaned to something else: %+v, %v", row.name, about, err)
		}
	}
}

func decoded(b []byte) (image.Image, error) {
	switch TypeOf(b) {
	case "image/png":
		return png.Decode(bytes.NewReader(b))
	case "image/webp":
		return webp.Decode(bytes.NewReader(b))
	}
	return jpeg.Decode(bytes.NewReader(b))
}

func samePixels(t *testing.T, name string, sent, kept []byte, about About) {
	t.Helper()
	before, err := decoded(sent)
	if err != nil {
		t.Fatalf("%s: %v", name, err)
	}
	after, err := decoded(kept)
	if err != nil {
		t.Errorf("%s: the copy cannot be decoded: %v", name, err)
		return
	}
	b := before.Bounds()
	if b != after.Bounds() || b.Dx() != about.Width || b.Dy() != about.Height {
		t.Errorf("%s: %v, copy %v, told %d by %d", name, b, after.Bounds(), about.Width, about.Height)
		return
	}
	for y := b.Min.Y; y < b.Max.Y; y++ {
		for x := b.Min.X; x < b.Max.X; x++ {
			if color.NRGBAModel.Convert(before.At(x, y)) != color.NRGBAModel.Convert(after.At(x, y)) {
				t.Errorf("%s: the pixel at %d, %d differs", name, x, y)
				return
			}
		}
	}
}

// orientationOf reads which side of a copy is up; the copy may tell nothing else.
func orientationOf(t *testing.T, kept []byte, mediaType string) uint16 {
	t.Helper()
	begin := map[string]string{"image/jpeg": exifBegin, "image/png": "eXIf", "image/webp": "EXIF\x1a\x00\x00\x00"}[mediaType]
	at := bytes.Index(kept, []byte(begin))
	if at < 0 {
		return 0
	}
	tiff := kept[at+len(begin):][:26]
	if got := readEXIF(tiff); got.location || !bytes.Equal(tiff, onlyOrientation(got.orientation)) {
		t.Errorf("the copy tells %+v", got)
	}
	return readEXIF(tiff).orientation
}

// What is no photo that is kept: of another type, cut short, made to exhaust who opens it.
func TestWhatIsRefused(t *testing.T) {
	whole, plainPNG := aJPEG(t, 40, 24), aPNG(t, 40, 24)
	frame := bytes.Index(whole, []byte{0xff, mSOF0})
	tall := bytes.Clone(whole)
	binary.BigEndian.PutUint16(tall[frame+5:], 0)
	bomb := bytes.Clone(whole)
	binary.BigEndian.PutUint32(bomb[frame+5:], 0xffff_ffff)
	wide := bytes.Clone(whole)
	binary.BigEndian.PutUint16(wide[frame+5:], 16_000)
	binary.BigEndian.PutUint16(wide[frame+7:], 16_000)
	lossless := bytes.Clone(whole)
	lossless[frame+1] = 0xc3
	header := func(width, height uint32, rest string) []byte {
		b := binary.BigEndian.AppendUint32(binary.BigEndian.AppendUint32(nil, width), height)
		return append([]byte(pngSignature), pngChunkOf("IHDR", string(b)+rest)...)
	}
	flipped := bytes.Clone(plainPNG)
	flipped[50] ^= 1
	canvas := extended(lossyWebP(), 0, nil, nil)
	canvas[24] = 9
	for name, sent := range map[string][]byte{
		"nothing":                         {},
		"a text":                          []byte("this is a text and no picture"),
		"a page":                          []byte("<!doctype html><script>alert(1)</script>"),
		"a drawing with scripts":          []byte("<svg xmlns='http://www.w3.org/2000/svg' onload='alert(1)'/>"),
		"a GIF":                           []byte("GIF89a\x01\x00\x01\x00\x80\x00\x00"),
		"a PDF with a JPEG in it":         append([]byte("%PDF-1.4\n"), whole...),
		"an archive with a JPEG in it":    append([]byte("PK\x03\x04"), whole...),
		"a JPEG behind a blank":           append([]byte(" "), whole...),
		"JPEG: nothing but its beginning": whole[:3],
		"JPEG: no end":                    whole[:len(whole)-2],
		"JPEG: half of its last marker":   whole[:len(whole)-1],
		"JPEG: cut in its data":           whole[:len(whole)/2+len(whole)/4],
		"JPEG: cut in its tables":         whole[:40],
		"JPEG: no picture":                {0xff, mSOI, 0xff, mEOI},
		"JPEG: bytes between segments":    with(whole, []byte(script)),
		"JPEG: two frames":                with(whole, whole[frame:frame+19]),
		"JPEG: height told later":         tall,
		"JPEG: 65,535 by 65,535":          bomb,
		"JPEG: 16,000 by 16,000":          wide,
		"JPEG: without loss":              lossless,
		"JPEG: tables longer than told":   with(whole, jpegSegment(mDHT, strings.Repeat("\x00", 16))),
		"PNG: no end":                     plainPNG[:len(plainPNG)-12],
		"PNG: cut":                        plainPNG[:len(plainPNG)/2],
		"PNG: a bit that differs":         flipped,
		"PNG: header not first":           append([]byte(pngSignature), pngChunkOf("IDAT", "")...),
		"PNG: two headers":                behindHeader(plainPNG, plainPNG[8:33]),
		"PNG: no picture":                 append(header(1, 1, "\x08\x02\x00\x00\x00"), pngChunkOf("IEND", "")...),
		"PNG: no such colors":             append(header(1, 1, "\x03\x02\x00\x00\x00"), plainPNG[33:]...),
		"PNG: 2^31 by 2^31":               append(header(1<<31, 1<<31, "\x08\x02\x00\x00\x00"), plainPNG[33:]...),
		"PNG: 100,000 by 1":               append(header(100_000, 1, "\x08\x02\x00\x00\x00"), plainPNG[33:]...),
		"PNG: a chunk that must be known": behindHeader(plainPNG, pngChunkOf("EVIL", script)),
		"PNG: data behind its end":        behindHeader(plainPNG, pngChunkOf("IEND", "x")),
		"WebP: cut":                       lossyWebP()[:30],
		"WebP: no picture":                []byte("RIFF\x04\x00\x00\x00WEBP"),
		"WebP: two pictures":              extended(lossyWebP(), 0, nil, lossyWebP()[12:]),
		"WebP: two sizes":                 canvas,
		"WebP: moves":                     extended(lossyWebP(), webpAnimation, nil, nil),
		"WebP: another container":         append([]byte("RIFF\x04\x00\x00\x00WAVE"), lossyWebP()...),
	} {
		kept, _, err := Clean(sent)
		if _, ok := errors.AsType[*BadError](err); !ok || kept != nil {
			t.Errorf("%s: kept as %d bytes, %v", name, len(kept), err)
		}
	}
	progressive := bytes.Clone(whole) // its structure is the same
	progressive[frame+1] = mSOF2
	if _, _, err := Clean(progressive); err != nil {
		t.Errorf("progressive: %v", err)
	}
}

// Every beginning of a photo is refused: none ends before its end.
func TestCutAnywhere(t *testing.T) {
	for _, whole := range [][]byte{aJPEG(t, 16, 16), aPNG(t, 16, 16), lossyWebP(), losslessWebP()} {
		for n := range whole {
			if TypeOf(whole) == "image/webp" && n == len(whole)-1 && whole[16]%2 == 1 {
				continue // the last is a byte of padding
			}
			if _, _, err := Clean(whole[:n]); err == nil {
				t.Errorf("%s: %d of %d bytes are taken", TypeOf(whole), n, len(whole))
			}
		}
	}
}

// Whatever comes: nothing fails, the copy is no larger than what was sent and what tells
// which side is up, is of the same type and is its own copy.
func FuzzClean(f *testing.F) {
	for _, seed := range [][]byte{
		aJPEG(f, 9, 9), aPNG(f, 9, 9), lossyWebP(), losslessWebP(),
		with(aJPEG(f, 9, 9), jpegSegment(mAPP1, exifBegin+string(exif(binary.LittleEndian, 6)))),
		behindHeader(aPNG(f, 9, 9), pngChunkOf("eXIf", string(exif(binary.BigEndian, 3)))),
		extended(lossyWebP(), webpEXIF, nil, appendChunk(nil, "EXIF", exif(binary.BigEndian, 6))),
	} {
		f.Add(seed)
	}
	f.Fuzz(func(t *testing.T, sent []byte) {
		before := bytes.Clone(sent)
		kept, about, err := Clean(sent)
		if !bytes.Equal(sent, before) {
			t.Fatal("what was sent was changed")
		}
		if err != nil {
			return
		}
		if len(kept) > len(sent)+64 || TypeOf(kept) != about.MediaType || about.Width*about.Height > MaxPixels {
			t.Fatalf("%d bytes of %d, %+v", len(kept), len(sent), about)
		}
		again, told, err := Clean(kept)
		if err != nil || !bytes.Equal(again, kept) || told.LocationRemoved || told.Width != about.Width || told.Height != about.Height {
			t.Fatalf("the copy is kept otherwise: %+v, then %+v, %v", about, told, err)
		}
	})
}
