// Dense linear systems of a size known when compiling, for kernels that solve thousands of them a second.
#pragma once

#include <array>
#include <cmath>
#include <utility>

namespace rollwright::vehicle {

// Solves A x = b by elimination with partial pivoting. A (row by row) is destroyed, b becomes x.
// Returns false where a pivot is nothing against the largest entry: the system has no single answer.
template <int N>
bool solve_in_place(std::array<double, N * N>& a, std::array<double, N>& b) {
  double largest = 0.0;
  for (const double v : a) largest = std::max(largest, std::abs(v));
  const double smallest = 1e-14 * largest;
  for (int k = 0; k < N; ++k) {
    int pivot = k;
    for (int i = k + 1; i < N; ++i) {
      if (std::abs(a[i * N + k]) > std::abs(a[pivot * N + k])) pivot = i;
    }
    if (!(std::abs(a[pivot * N + k]) > smallest)) return false;
    if (pivot != k) {
      for (int j = k; j < N; ++j) std::swap(a[pivot * N + j], a[k * N + j]);
      std::swap(b[pivot], b[k]);
    }
    const double inverse = 1.0 / a[k * N + k];
    for (int i = k + 1; i < N; ++i) {
      const double factor = a[i * N + k] * inverse;
      if (factor == 0.0) continue;
      for (int j = k + 1; j < N; ++j) a[i * N + j] -= factor * a[k * N + j];
      b[i] -= factor * b[k];
    }
  }
  for (int i = N - 1; i >= 0; --i) {
    double sum = b[i];
    for (int j = i + 1; j < N; ++j) sum -= a[i * N + j] * b[j];
    b[i] = sum / a[i * N + i];
  }
  return true;
}

// The same for a symmetric A whose lower half is given. Returns false where A is not positive definite: what it
// describes would run away from rest.
template <int N>
bool solve_positive_definite(std::array<double, N * N>& a, std::array<double, N>& b) {
  for (int k = 0; k < N; ++k) {
    if (!(a[k * N + k] > 0.0)) return false;
    const double inverse = 1.0 / a[k * N + k];
    for (int i = k + 1; i < N; ++i) {
      const double factor = a[i * N + k] * inverse;
      for (int j = k + 1; j <= i; ++j) a[i * N + j] -= factor * a[j * N + k];
      b[i] -= factor * b[k];
    }
  }
  for (int i = N - 1; i >= 0; --i) {
    double sum = b[i];
    for (int j = i + 1; j < N; ++j) sum -= a[j * N + i] * b[j];
    b[i] = sum / a[i * N + i];
  }
  return true;
}

// A⁻¹ column by column. False where there is none.
template <int N>
bool invert(const std::array<double, N * N>& a, std::array<double, N * N>& inverse) {
  for (int column = 0; column < N; ++column) {
    auto copy = a;
    std::array<double, N> e{};
    e[column] = 1.0;
    if (!solve_in_place<N>(copy, e)) return false;
    for (int row = 0; row < N; ++row) inverse[row * N + column] = e[row];
  }
  return true;
}

}  // namespace rollwright::vehicle
