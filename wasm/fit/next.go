package fit

import "math"

// reduce returns R⁻ᵀ row for one noise: the products of two such vectors are the
// covariances of what the rows stand for.
func (b *Belief) reduce(noise int, row []float64) []float64 {
	r := b.tri[noise]
	z := make([]float64, len(row))
	for j := range z {
		v := row[j]
		for k := range j {
			v -= r[k][j] * z[k]
		}
		z[j] = v / r[j][j]
	}
	return z
}

// Covariance returns the covariance of two rows' values, for each noise.
func (b *Belief) Covariance(one, other []float64) []float64 {
	var out []float64
	for i := range b.tri {
		out = append(out, dot(b.reduce(i, one), b.reduce(i, other)))
	}
	return out
}

// Falls returns, for each noise, by how much the variance of row · unknowns falls
// when these readings are taken as well, whatever they come to: v* falls by
// (z*ᵀVz)² / (σ² + zᵀVz) with the first, and with each of the others after it.
// Readings of one block share the job's part of the noise; no block of theirs is
// one that was read before. Y is not looked at.
func (b *Belief) Falls(row []float64, more []Reading) []float64 {
	out := make([]float64, len(b.tri))
	for i, sd := range b.noise.SD {
		aim := b.reduce(i, row)
		var z, low [][]float64 // the readings, and the Cholesky factor of their covariance
		var to []float64       // what is new of each, by its covariance with the aim
		for n, r := range more {
			z = append(z, b.reduce(i, r.Row))
			low = append(low, make([]float64, n+1))
			tell := dot(aim, z[n])
			for j := range n + 1 {
				v := dot(z[n], z[j])
				if r.Block == more[j].Block {
					v += sd * sd * b.noise.Share * b.noise.Share
				}
				if j == n {
					v += sd*sd + r.Error*r.Error
				}
				for k := range j {
					v -= low[n][k] * low[j][k]
				}
				if j < n {
					low[n][j] = v / low[j][j]
					tell -= low[n][j] * to[j]
				} else {
					low[n][n] = math.Sqrt(v)
				}
			}
			to = append(to, tell/low[n][n])
		}
		out[i] = square(to)
	}
	return out
}

// Narrowed is a mixture whose variances have fallen by so much; its middles stay,
// since nobody knows yet what the readings will be.
func (m Mixture) Narrowed(falls []float64) Mixture {
	out := Mixture{Weight: m.Weight, Mean: m.Mean}
	for i, sd := range m.SD {
		out.SD = append(out.SD, math.Sqrt(max(0, sd*sd-falls[i])))
	}
	return out
}

// Without returns, for each of the readings that the belief was learnt from, what all
// the others say of it: the distribution of its Y, its own noise and error in it.
// Nothing is learnt again. With K the covariance of all readings before any is
// taken, the others miss reading i by (K⁻¹y)ᵢ / (K⁻¹)ᵢᵢ, with the variance
// 1 / (K⁻¹)ᵢᵢ (Rasmussen and Williams, section 5.4.2, place not seen), and
// K⁻¹ = N⁻¹ − N⁻¹Z (RᵀR)⁻¹ ZᵀN⁻¹ (Woodbury). The weight of a noise is what
// it was before that reading spoke.
func (b *Belief) Without(readings []Reading) []Mixture {
	out := make([]Mixture, len(readings))
	for i, sd := range b.noise.SD {
		shared := sd * sd * b.noise.Share * b.noise.Share
		own := func(j int) float64 { return sd*sd + readings[j].Error*readings[j].Error }
		var rest []float64
		sums := map[int]float64{} // of 1/own in a block
		for j, r := range readings {
			rest = append(rest, r.Y-dot(b.mean[i], r.Row))
			sums[r.Block] += 1 / own(j)
		}
		for j, r := range readings {
			all := shared / (1 + shared*sums[r.Block])
			row := make([]float64, len(r.Row))
			miss, sure := 0.0, 0.0
			for k, o := range readings { // the row of N⁻¹, a block of its own
				if o.Block != r.Block {
					continue
				}
				u := -all / (own(j) * own(k))
				if k == j {
					u += 1 / own(j)
					sure = u
				}
				miss += u * rest[k]
				for c, v := range o.Row {
					row[c] += u * v
				}
			}
			sure -= square(b.reduce(i, row))
			off, v := miss/sure, 1/sure
			m := &out[j]
			m.Mean, m.SD = append(m.Mean, r.Y-off), append(m.SD, math.Sqrt(v))
			m.Weight = append(m.Weight, b.weight[i]*math.Sqrt(v)*math.Exp(off*off/(2*v)))
		}
	}
	for j := range out {
		sum := 0.0
		for _, w := range out[j].Weight {
			sum += w
		}
		for i := range out[j].Weight {
			out[j].Weight[i] /= sum
		}
	}
	return out
}
