package fit

import "math"

// Reading is one measured value: Y = Row · unknowns, plus what the job adds to all
// its readings of one kind, plus noise of its own, plus the error of reading it.
type Reading struct {
	Row   []float64
	Y     float64
	Error float64 // standard deviation of reading it
	Block int     // readings of one block share the job's part
}

// Noise is what is not known of the noise: its standard deviation takes one of
// these values, each with its weight before any reading. Share is the part that a
// job's readings share, as a share of the noise.
type Noise struct {
	SD, Weight []float64
	Share      float64
}

// Belief is what readings leave of a prior: for each value of the noise a normal
// distribution of the unknowns, and a weight.
type Belief struct {
	noise  Noise
	weight []float64
	mean   [][]float64
	tri    [][][]float64 // for each noise the triangle R with RᵀR the precision
}

// Learn updates independent normal unknowns of mean 0 and the standard deviations
// prior by the readings; an infinite deviation is no prior at all. Nothing is
// squared: prior and readings are rows that reflections bring to a triangle. The
// error is ErrDependent where the readings and the prior leave an unknown open.
func Learn(prior []float64, readings []Reading, noise Noise) (*Belief, error) {
	b := &Belief{noise: noise}
	flat := false
	for _, p := range prior {
		flat = flat || math.IsInf(p, 1)
	}
	most := math.Inf(-1)
	var evidence []float64
	for i, sd := range noise.SD {
		rows, y, logs := white(readings, sd, noise.Share)
		for j, p := range prior {
			if math.IsInf(p, 1) {
				continue
			}
			row := make([]float64, len(prior))
			row[j] = 1 / p
			rows, y = append(rows, row), append(y, 0)
			logs -= math.Log(1 / p)
		}
		r, q, ok := triangle(rows, y)
		if !ok {
			return nil, ErrDependent
		}
		mean := back(r, q)
		rest := residuals(rows, y, mean)
		if flat { // what no prior holds may lose digits: one step of refinement
			r2, q2, _ := triangle(rows, rest)
			for j, d := range back(r2, q2) {
				mean[j] += d
			}
			rest = residuals(rows, y, mean)
		}
		for j := range r {
			logs += math.Log(math.Abs(r[j][j]))
		}
		e := math.Log(noise.Weight[i]) - logs - square(rest)/2
		b.mean, b.tri, evidence = append(b.mean, mean), append(b.tri, r), append(evidence, e)
		most = max(most, e)
	}
	sum := 0.0
	for _, e := range evidence {
		b.weight = append(b.weight, math.Exp(e-most))
		sum += math.Exp(e - most)
	}
	for i := range b.weight {
		b.weight[i] /= sum
	}
	return b, nil
}

// white makes rows whose noise is independent and of deviation 1, and the logarithm
// of the determinant's root that this takes out.
func white(readings []Reading, sd, share float64) (rows [][]float64, y []float64, logs float64) {
	blocks := map[int][]int{}
	var order []int
	for i, r := range readings {
		if blocks[r.Block] == nil {
			order = append(order, r.Block)
		}
		blocks[r.Block] = append(blocks[r.Block], i)
	}
	for _, name := range order {
		list := blocks[name]
		n := len(list)
		low := make([][]float64, n) // Cholesky factor of the block
		for i, at := range list {
			low[i] = make([]float64, i+1)
			for j := range i + 1 {
				v := sd * sd * share * share
				if i == j {
					v += sd*sd + readings[at].Error*readings[at].Error
				}
				for k := range j {
					v -= low[i][k] * low[j][k]
				}
				if i == j {
					low[i][i] = math.Sqrt(v)
				} else {
					low[i][j] = v / low[j][j]
				}
			}
			logs += math.Log(low[i][i])
		}
		first := len(rows)
		for i, at := range list {
			row, v := append([]float64{}, readings[at].Row...), readings[at].Y
			for k := range i {
				for j := range row {
					row[j] -= low[i][k] * rows[first+k][j]
				}
				v -= low[i][k] * y[first+k]
			}
			for j := range row {
				row[j] /= low[i][i]
			}
			rows, y = append(rows, row), append(y, v/low[i][i])
		}
	}
	return rows, y, logs
}

// Middle returns the mean of every unknown.
func (b *Belief) Middle() []float64 {
	out := make([]float64, len(b.mean[0]))
	for i, m := range b.mean {
		for j, v := range m {
			out[j] += b.weight[i] * v
		}
	}
	return out
}

// Mixture is a value as a belief has it: one normal distribution for each noise.
type Mixture struct{ Weight, Mean, SD []float64 }

// At returns row · unknowns plus something not read yet, whose variance is own plus
// of times that of the noise: 0 for the process itself, 1 for the noise of one more
// reading, 1 + Share² for a reading in a new job.
func (b *Belief) At(row []float64, own, of float64) Mixture {
	m := Mixture{Weight: b.weight}
	z := make([]float64, len(row))
	for i, r := range b.tri {
		s := 0.0
		for j := range z { // Rᵀ z = row
			v := row[j]
			for k := range j {
				v -= r[k][j] * z[k]
			}
			z[j] = v / r[j][j]
			s += z[j] * z[j]
		}
		m.Mean = append(m.Mean, dot(b.mean[i], row))
		m.SD = append(m.SD, math.Sqrt(s+own+of*b.noise.SD[i]*b.noise.SD[i]))
	}
	return m
}

// Below is the share of the distribution below x.
func (m Mixture) Below(x float64) float64 {
	s := 0.0
	for i, w := range m.Weight {
		s += w * math.Erfc((m.Mean[i]-x)/(m.SD[i]*math.Sqrt2)) / 2
	}
	return s
}

// Quantile is the value below which the share p lies: Newton's steps, kept between
// the ends that bisection would keep.
func (m Mixture) Quantile(p float64) float64 {
	low, high := math.Inf(1), math.Inf(-1)
	for i := range m.Weight {
		low, high = min(low, m.Mean[i]-9*m.SD[i]), max(high, m.Mean[i]+9*m.SD[i])
	}
	x := 0.0
	for i, w := range m.Weight { // from the middle: the distribution is nearly one bell
		x += w * m.Mean[i]
	}
	for range 60 {
		miss, rise := -p, 0.0
		for i, w := range m.Weight {
			z := (x - m.Mean[i]) / m.SD[i]
			miss += w * math.Erfc(-z/math.Sqrt2) / 2
			rise += w * math.Exp(-z*z/2) / m.SD[i]
		}
		if miss < 0 {
			low = x
		} else {
			high = x
		}
		step := miss / rise * math.Sqrt(2*math.Pi)
		if math.Abs(step) < 1e-13*max(1, math.Abs(x)) || high-low < 1e-14 {
			break
		}
		if x -= step; !(x > low && x < high) {
			x = (low + high) / 2
		}
	}
	return x
}
