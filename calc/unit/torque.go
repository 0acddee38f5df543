package unit

// Torque is in newton meters.
type Torque float64

// newtonMeters are the factors to one newton meter: a pound-force foot is
// 0.45359237 kg x 9.80665 m/s2 x 0.3048 m (NIST Special Publication 811, Appendix B).
var newtonMeters = map[Unit]float64{NewtonMeters: 1, PoundFeet: 0.45359237 * 9.80665 * 0.3048}

// TorqueOf makes a torque from NewtonMeters or PoundFeet; zero and less are refused.
func TorqueOf(n float64, u Unit) (Torque, error) {
	t, err := scaled(n, u, newtonMeters, "N·m or lb·ft is wanted")
	if err == nil && t <= 0 {
		err = &Error{n, u, "a torque above zero"}
	}
	return Torque(t), err
}

// MustTorque is TorqueOf for constants.
func MustTorque(n float64, u Unit) Torque { return must(TorqueOf(n, u)) }

// In gives the torque in NewtonMeters or PoundFeet.
func (t Torque) In(u Unit) float64 { return float64(t) / newtonMeters[u] }

// Amount gives the torque in the unit u, unrounded.
func (t Torque) Amount(u Unit) Amount { return amount(t.In(u), u) }
