package fit

import "math"

// covered is the share of Student's distribution between -t and t, for a whole
// number of degrees of freedom: the finite sums 26.7.3 and 26.7.4 of Abramowitz
// and Stegun.
func covered(t float64, df int) float64 {
	a := math.Atan(t / math.Sqrt(float64(df)))
	sin, cos := math.Sincos(a)
	odd := df % 2
	term, sum := 1.0, 0.0
	if odd == 1 {
		term = cos
	}
	for k := 2 + odd; k <= df; k += 2 {
		sum += term
		term *= cos * cos * float64(k-1) / float64(k)
	}
	if odd == 1 {
		return 2 / math.Pi * (a + sin*sum)
	}
	return sin * sum
}

// T returns Student's t with a share between -t and t: 2.776 for 0.95 and 4.
func T(share float64, df int) float64 {
	return search(func(t float64) bool { return covered(t, df) < share })
}

// below is the share of the chi-square distribution below x, for a whole number
// of degrees of freedom: the finite sums 26.4.4 and 26.4.5 of Abramowitz and
// Stegun. It holds to about 1,000 degrees; beyond, e^(-x/2) runs out.
func below(x float64, df int) float64 {
	if df%2 == 0 {
		term, sum := math.Exp(-x/2), 0.0
		for k := 1; k <= df/2; k++ {
			sum += term
			term *= x / 2 / float64(k)
		}
		return 1 - sum
	}
	root := math.Sqrt(x)
	term, sum := 2*math.Exp(-x/2)/math.Sqrt(2*math.Pi)*root, 0.0
	for k := 1; k < df; k += 2 {
		sum += term
		term *= x / float64(k+2)
	}
	return 1 - math.Erfc(root/math.Sqrt2) - sum
}

// ChiSquare returns the x with a share of the distribution below it.
func ChiSquare(share float64, df int) float64 {
	return search(func(x float64) bool { return below(x, df) < share })
}

// Normal returns the z with a share of the normal distribution between -z and z.
func Normal(share float64) float64 {
	return search(func(z float64) bool { return math.Erf(z/math.Sqrt2) < share })
}

// search returns where low turns false, from zero up.
func search(low func(float64) bool) float64 {
	a, b := 0.0, 1.0
	for low(b) && b < 1e12 {
		a, b = b, 2*b
	}
	for range 100 {
		if m := (a + b) / 2; low(m) {
			a = m
		} else {
			b = m
		}
	}
	return (a + b) / 2
}
