// Lanes: several numbers that go through the same sums together, so that one pass of a kernel serves several cars.
//
// A kernel is written once as a template on its number type. With `double` it is the plain code; with `Lanes` every sum,
// product and function does as many as a register holds. Branches become `select(mask, a, b)`, with `any(mask)` to skip what no lane needs. Only
// operations that IEEE 754 fixes to the last bit are used, and nothing is contracted: a lane gives the same bits on every
// machine, whatever its neighbours hold.
//
// Every function is inlined; a source file that uses Lanes is compiled with -Wno-psabi (nothing with lanes crosses a call).
//
// `Instructions` names what the file is compiled for and has `kLanes`, the numbers in a register. Each source file uses
// its own name, so that the linker cannot mix code for different processors.
//
// Functions: arctan by reduction to |t| ≤ tan π/8 and an odd polynomial in t, sine and cosine by reduction to ±π/2 and
// polynomials; coefficients by Chebyshev interpolation to 40 digits (our own), truncation below 2e-18. Against the
// standard library within 4 units of the last place (arctan, sine away from multiples of π), 3e-16 absolute near zeros.
#pragma once

#include <bit>
#include <cmath>
#include <cstring>

namespace rollwright::numerics {

#define ROLLWRIGHT_INLINE [[gnu::always_inline]] inline

// ------------------------------------------------------------------ the plain number
ROLLWRIGHT_INLINE double select(bool which, double a, double b) { return which ? a : b; }
ROLLWRIGHT_INLINE bool any(bool which) { return which; }
ROLLWRIGHT_INLINE bool any(int which) { return which != 0; }  // bool | bool is an int
ROLLWRIGHT_INLINE double select(int which, double a, double b) { return which != 0 ? a : b; }
ROLLWRIGHT_INLINE double larger(double a, double b) { return a < b ? b : a; }
ROLLWRIGHT_INLINE double smaller(double a, double b) { return b < a ? b : a; }
ROLLWRIGHT_INLINE double magnitude(double x) { return std::abs(x); }
ROLLWRIGHT_INLINE double with_sign_of(double size, double sign) { return std::copysign(size, sign); }
ROLLWRIGHT_INLINE double arctan(double x) { return std::atan(x); }
ROLLWRIGHT_INLINE double arctan2(double y, double x) { return std::atan2(y, x); }
ROLLWRIGHT_INLINE double sine(double x) { return std::sin(x); }
ROLLWRIGHT_INLINE double cosine(double x) { return std::cos(x); }
ROLLWRIGHT_INLINE double power(double x, double p) { return std::pow(x, p); }

// ------------------------------------------------------------------ several of them
template <int kLanes>
struct Registers;
#define ROLLWRIGHT_REGISTERS(N)                                  \
  template <>                                                    \
  struct Registers<N> {                                          \
    using Numbers [[gnu::vector_size(8 * N)]] = double;          \
    using Bits [[gnu::vector_size(8 * N)]] = long long;          \
  }
ROLLWRIGHT_REGISTERS(2);
ROLLWRIGHT_REGISTERS(4);
ROLLWRIGHT_REGISTERS(8);
#undef ROLLWRIGHT_REGISTERS

template <class Instructions>
struct LaneMask {
  using Vector = typename Registers<Instructions::kLanes>::Bits;
  Vector v;

  ROLLWRIGHT_INLINE friend LaneMask operator|(LaneMask a, LaneMask b) { return {a.v | b.v}; }
  ROLLWRIGHT_INLINE friend bool any(LaneMask which) {
    long long one = 0;
    for (int i = 0; i < Instructions::kLanes; ++i) one |= which.v[i];
    return one != 0;
  }
};

template <class Instructions>
struct Lanes {
  using Vector = typename Registers<Instructions::kLanes>::Numbers;
  using Mask = LaneMask<Instructions>;
  using Bits = typename Mask::Vector;
  Vector v;

  Lanes() = default;
  ROLLWRIGHT_INLINE Lanes(double x) : v(Vector{} + x) {}  // a number among lanes is the same in each
  ROLLWRIGHT_INLINE explicit Lanes(Vector x) : v(x) {}
  ROLLWRIGHT_INLINE static Lanes load(const double* p) {
    Lanes x;
    std::memcpy(&x.v, p, sizeof x.v);
    return x;
  }
  ROLLWRIGHT_INLINE void store(double* p) const { std::memcpy(p, &v, sizeof v); }

  ROLLWRIGHT_INLINE friend Lanes operator+(Lanes a, Lanes b) { return Lanes(a.v + b.v); }
  ROLLWRIGHT_INLINE friend Lanes operator-(Lanes a, Lanes b) { return Lanes(a.v - b.v); }
  ROLLWRIGHT_INLINE friend Lanes operator*(Lanes a, Lanes b) { return Lanes(a.v * b.v); }
  ROLLWRIGHT_INLINE friend Lanes operator/(Lanes a, Lanes b) { return Lanes(a.v / b.v); }
  ROLLWRIGHT_INLINE friend Lanes operator-(Lanes a) { return Lanes(-a.v); }
  ROLLWRIGHT_INLINE Lanes& operator+=(Lanes b) { v += b.v; return *this; }
  ROLLWRIGHT_INLINE Lanes& operator-=(Lanes b) { v -= b.v; return *this; }
  ROLLWRIGHT_INLINE friend Mask operator<(Lanes a, Lanes b) { return {a.v < b.v}; }
  ROLLWRIGHT_INLINE friend Mask operator>(Lanes a, Lanes b) { return {a.v > b.v}; }
  ROLLWRIGHT_INLINE friend Mask operator<=(Lanes a, Lanes b) { return {a.v <= b.v}; }
  ROLLWRIGHT_INLINE friend Mask operator>=(Lanes a, Lanes b) { return {a.v >= b.v}; }

  ROLLWRIGHT_INLINE friend Lanes select(Mask which, Lanes a, Lanes b) {
    return Lanes(std::bit_cast<Vector>((which.v & std::bit_cast<Bits>(a.v)) | (~which.v & std::bit_cast<Bits>(b.v))));
  }
  ROLLWRIGHT_INLINE friend Lanes larger(Lanes a, Lanes b) { return select(a < b, b, a); }
  ROLLWRIGHT_INLINE friend Lanes smaller(Lanes a, Lanes b) { return select(b < a, b, a); }
  ROLLWRIGHT_INLINE friend Lanes magnitude(Lanes x) { return Lanes(std::bit_cast<Vector>(std::bit_cast<Bits>(x.v) & kMagnitude)); }
  ROLLWRIGHT_INLINE friend Lanes with_sign_of(Lanes size, Lanes sign) {
    return Lanes(std::bit_cast<Vector>((std::bit_cast<Bits>(size.v) & kMagnitude) | (std::bit_cast<Bits>(sign.v) & ~kMagnitude)));
  }

  ROLLWRIGHT_INLINE friend Lanes arctan(Lanes x) {
    const Lanes size = magnitude(x);
    const Mask steep = size > Lanes(2.4142135623730950488), middle = size > Lanes(0.4142135623730950488);  // tan 3π/8, tan π/8
    const Lanes over = select(steep, Lanes(-1.0), select(middle, size - Lanes(1.0), size));
    const Lanes under = select(steep, size, select(middle, size + Lanes(1.0), Lanes(1.0)));
    const Lanes start = select(steep, Lanes(1.5707963267948966192), select(middle, Lanes(0.78539816339744830962), Lanes(0.0)));
    const Lanes t = over / under, z = t * t, z2 = z * z, z4 = z2 * z2;
    // In pairs, so that the sums do not wait for each other.
    const Lanes low = (Lanes(-0.33333333333333120948) + z * 0.19999999999940837328) + z2 * (Lanes(-0.14285714279244968487) + z * 0.11111110744657099602);
    const Lanes mid = (Lanes(-0.090908968014728134434) + z * 0.07692045194561481467) + z2 * (Lanes(-0.06662950246036791267) + z * 0.058468667522751389837);
    const Lanes high = (Lanes(-0.050350497953124393166) + z * 0.037963903161110833033) - z2 * 0.017803896394812563193;
    return with_sign_of(start + (t + t * z * (low + z4 * (mid + z4 * high))), x);
  }
  // Angle of a point that lies ahead; behind, lane by lane.
  ROLLWRIGHT_INLINE friend Lanes arctan2(Lanes y, Lanes x) {
    if (any(x <= Lanes(0.0))) return each(y, x, &one_arctan2);
    return arctan(y / x);
  }
  ROLLWRIGHT_INLINE friend Lanes sine(Lanes x) {
    Bits odd;
    const Lanes r = reduce(x, odd), z = r * r, z2 = z * z, z4 = z2 * z2;
    const Lanes p = (Lanes(-0.16666666666666665306) + z * 0.0083333333333331862815) + z2 * (Lanes(-0.0001984126984120863862) + z * 2.7557319211223259502e-6) +
                    z4 * ((Lanes(-2.5052106889975130936e-8) + z * 1.6058940847832492062e-10) + z2 * (Lanes(-7.6430257389643450587e-13) + z * 2.7215660921125597963e-15));
    return flipped(r + r * z * p, odd);
  }
  ROLLWRIGHT_INLINE friend Lanes cosine(Lanes x) {
    Bits odd;
    const Lanes r = reduce(x, odd), z = r * r, z2 = z * z, z4 = z2 * z2;
    const Lanes p = (Lanes(0.041666666666666659739) - z * 0.0013888888888888529455) + z2 * (Lanes(0.000024801587301492584992) - z * 2.7557319209647338726e-7) +
                    z4 * ((Lanes(2.0876755666053529656e-9) - z * 1.1470670142864074724e-11) + z2 * (Lanes(4.7768717334153680387e-14) - z * 1.5119778660016099987e-16));
    return flipped((Lanes(1.0) - z * 0.5) + z2 * p, odd);
  }
  ROLLWRIGHT_INLINE friend Lanes power(Lanes x, Lanes p) { return each(x, p, &one_power); }

 private:
  static constexpr long long kMagnitude = 0x7fffffffffffffff;
  [[gnu::noinline]] static double one_arctan2(double y, double x) { return ::atan2(y, x); }
  [[gnu::noinline]] static double one_power(double x, double p) { return ::pow(x, p); }
  ROLLWRIGHT_INLINE static Lanes each(Lanes a, Lanes b, double (*f)(double, double)) {
    Lanes out;
    for (int i = 0; i < Instructions::kLanes; ++i) out.v[i] = f(a.v[i], b.v[i]);
    return out;
  }
  // x less the nearest multiple of π, and whether that multiple is odd. π in three parts: exact enough to |x| = 1e5, and
  // no car turns round 16,000 times.
  ROLLWRIGHT_INLINE static Lanes reduce(Lanes x, Bits& odd) {
    const Lanes shift(6755399441055744.0);  // 1.5·2⁵²: adding it leaves the nearest whole number in the last bits
    const Lanes shifted = x * 0.31830988618379067154 + shift;
    const Lanes n = shifted - shift;
    odd = std::bit_cast<Bits>(shifted.v) << 63;
    return ((x - n * 3.1415926218032836914) - n * 3.1786509424591713469e-08) - n * 1.2246467991473531772e-16;
  }
  ROLLWRIGHT_INLINE static Lanes flipped(Lanes x, Bits odd) { return Lanes(std::bit_cast<Vector>(std::bit_cast<Bits>(x.v) ^ odd)); }
};

}  // namespace rollwright::numerics
