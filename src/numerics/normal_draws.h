// Draws from the standard normal distribution that fill space evenly.
//
// A Sobol sequence [Sobol 1967; directions of Joe & Kuo 2008 through Boost.Random] gives points in the unit cube; each
// dimension is shifted by a random amount modulo 1 (a Cranley–Patterson rotation), so that the mean of a function over
// the draws is unbiased; the inverse normal distribution turns them into z values. Intervals from a few hundred such
// draws are about as steady as from several thousand independent ones when few dimensions matter.
#pragma once

#include <cstddef>
#include <cstdint>
#include <vector>

namespace rollwright::numerics {

// `count` draws of `dimensions` values each, row by row: draw i, dimension j at [i * dimensions + j].
// dimensions ≤ 3667; more is a bug of the caller.
std::vector<double> normal_draws(std::size_t count, std::size_t dimensions, std::uint64_t seed);

// Inverse of the standard normal distribution; p in (0, 1).
double inverse_normal(double p);

}  // namespace rollwright::numerics
