package bell

import "testing"

func isRung(rung <-chan struct{}) bool {
	select {
	case <-rung:
		return true
	default:
		return false
	}
}

func TestRingWakesItsShopOnly(t *testing.T) {
	var b Bell
	first, leaveFirst := b.Listen("north")
	second, leaveSecond := b.Listen("north")
	other, leaveOther := b.Listen("south")

	b.Ring("north")
	if !isRung(first) || !isRung(second) {
		t.Error("a listener was not woken")
	}
	if isRung(other) {
		t.Error("a listener of another shop was woken")
	}

	later, leaveLater := b.Listen("north")
	if isRung(later) {
		t.Error("an earlier ring woke a later listener")
	}
	leaveFirst()
	b.Ring("north")
	if !isRung(later) {
		t.Error("an earlier listener took a later one along when it left")
	}

	leaveSecond()
	leaveLater()
	leaveOther()
	if len(b.shops) != 0 {
		t.Errorf("%d shops are remembered, nobody listens", len(b.shops))
	}
}
