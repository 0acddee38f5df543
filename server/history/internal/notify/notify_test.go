package notify

import "testing"

func isClosed(notified <-chan struct{}) bool {
	select {
	case <-notified:
		return true
	default:
		return false
	}
}

func TestNotifyWakesItsShopOnly(t *testing.T) {
	var n Notifier
	first, unsubscribeFirst := n.Subscribe("north")
	second, unsubscribeSecond := n.Subscribe("north")
	other, unsubscribeOther := n.Subscribe("south")

	n.Notify("north")
	if !isClosed(first) || !isClosed(second) {
		t.Error("a subscriber was not woken")
	}
	if isClosed(other) {
		t.Error("a subscriber of another shop was woken")
	}

	later, unsubscribeLater := n.Subscribe("north")
	if isClosed(later) {
		t.Error("an earlier Notify woke a later subscriber")
	}
	unsubscribeFirst()
	n.Notify("north")
	if !isClosed(later) {
		t.Error("an earlier subscriber took a later one along when it left")
	}

	unsubscribeSecond()
	unsubscribeLater()
	unsubscribeOther()
	if len(n.shops) != 0 {
		t.Errorf("%d shops are remembered, nobody waits", len(n.shops))
	}
}
