#include "report/svg.h"

#include <cmath>
#include <cstdio>

namespace rollwright::report {
namespace {

constexpr double kLeft = 54, kRight = 14, kTop = 30, kBottom = 44;

std::string fixed(double value, int decimals) {
  char text[64];
  std::snprintf(text, sizeof text, "%.*f", decimals, value);
  const std::string s = text;
  return s[0] == '-' && s.find_first_not_of("-0.") == std::string::npos ? s.substr(1) : s;  // no "-0.0"
}

double chosen_step(const Axis& axis) {
  if (axis.step > 0) return axis.step;
  const double rough = (axis.high - axis.low) / 5.0, power = std::pow(10.0, std::floor(std::log10(rough)));
  for (const double factor : {1.0, 2.0, 5.0}) {
    if (factor * power >= rough) return factor * power;
  }
  return 10 * power;
}

}  // namespace

std::string coordinate(double value) {
  std::string s = fixed(value, 1);
  if (s.size() > 2 && s.substr(s.size() - 2) == ".0") s.resize(s.size() - 2);
  return s == "-0" ? "0" : s;
}

std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : text) {
    switch (c) {
      case '&': out += "&amp;"; break;
      case '<': out += "&lt;"; break;
      case '>': out += "&gt;"; break;
      case '"': out += "&quot;"; break;
      case '\'': out += "&#39;"; break;
      default: out += c;
    }
  }
  return out;
}

Plot::Plot(std::string title, Axis x, Axis y, double width, double height)
    : title_(std::move(title)), x_(std::move(x)), y_(std::move(y)), width_(width), height_(height) {}

double Plot::px(double x) const { return kLeft + (x - x_.low) / (x_.high - x_.low) * (width_ - kLeft - kRight); }
double Plot::py(double y) const { return height_ - kBottom - (y - y_.low) / (y_.high - y_.low) * (height_ - kTop - kBottom); }

void Plot::line(const std::vector<PlotPoint>& points, const std::string& css_class) {
  std::string path;
  for (const auto& [x, y] : points) path += (path.empty() ? "M" : "L") + coordinate(px(x)) + " " + coordinate(py(y));
  body_ += "<path class=\"" + css_class + "\" d=\"" + path + "\"/>\n";
}

void Plot::circle(PlotPoint at, const std::string& css_class, double radius) {
  body_ += "<circle class=\"" + css_class + "\" cx=\"" + coordinate(px(at.first)) + "\" cy=\"" + coordinate(py(at.second)) + "\" r=\"" + coordinate(radius) + "\"/>\n";
}

void Plot::triangle(PlotPoint at, const std::string& css_class, double size) {
  const double x = px(at.first), y = py(at.second);
  body_ += "<path class=\"" + css_class + "\" d=\"M" + coordinate(x) + " " + coordinate(y - size) + "L" + coordinate(x + size) + " " + coordinate(y + 0.7 * size) + "L" +
           coordinate(x - size) + " " + coordinate(y + 0.7 * size) + "Z\"/>\n";
}

void Plot::cross(PlotPoint at, const std::string& css_class, double size) {
  const double x = px(at.first), y = py(at.second);
  body_ += "<path class=\"" + css_class + "\" d=\"M" + coordinate(x - size) + " " + coordinate(y - size) + "L" + coordinate(x + size) + " " + coordinate(y + size) + "M" +
           coordinate(x - size) + " " + coordinate(y + size) + "L" + coordinate(x + size) + " " + coordinate(y - size) + "\"/>\n";
}

void Plot::text(PlotPoint at, const std::string& words, const std::string& anchor, double dx, double dy) {
  body_ += "<text x=\"" + coordinate(px(at.first) + dx) + "\" y=\"" + coordinate(py(at.second) + dy) + "\" text-anchor=\"" + anchor + "\">" + escaped(words) + "</text>\n";
}

void Plot::upright(double x, const std::string& css_class) {
  line({{x, y_.low}, {x, y_.high}}, css_class);
}

void Plot::region(double x_low, double x_high, const std::string& css_class) {
  body_ += "<rect class=\"" + css_class + "\" x=\"" + coordinate(px(x_low)) + "\" y=\"" + coordinate(py(y_.high)) + "\" width=\"" + coordinate(px(x_high) - px(x_low)) +
           "\" height=\"" + coordinate(py(y_.low) - py(y_.high)) + "\"/>\n";
}

std::string Plot::svg() const {
  std::string out = "<svg viewBox=\"0 0 " + coordinate(width_) + " " + coordinate(height_) + "\" role=\"img\" aria-label=\"" + escaped(title_) + "\">\n";
  const double x_step = chosen_step(x_), y_step = chosen_step(y_);
  for (double v = std::ceil(x_.low / x_step - 1e-9) * x_step; v <= x_.high + 1e-9 * x_step; v += x_step) {
    out += "<path class=\"tick\" d=\"M" + coordinate(px(v)) + " " + coordinate(py(y_.low)) + "v5\"/><text x=\"" + coordinate(px(v)) + "\" y=\"" + coordinate(py(y_.low) + 18) +
           "\" text-anchor=\"middle\">" + fixed(v, x_.decimals) + "</text>\n";
  }
  for (double v = std::ceil(y_.low / y_step - 1e-9) * y_step; v <= y_.high + 1e-9 * y_step; v += y_step) {
    out += "<path class=\"grid\" d=\"M" + coordinate(kLeft) + " " + coordinate(py(v)) + "H" + coordinate(width_ - kRight) + "\"/><text x=\"" + coordinate(kLeft - 8) + "\" y=\"" +
           coordinate(py(v) + 4) + "\" text-anchor=\"end\">" + fixed(v, y_.decimals) + "</text>\n";
  }
  out += "<path class=\"axis\" d=\"M" + coordinate(kLeft) + " " + coordinate(kTop) + "V" + coordinate(height_ - kBottom) + "H" + coordinate(width_ - kRight) + "\"/>\n";
  out += "<text x=\"" + coordinate(width_ - kRight) + "\" y=\"" + coordinate(height_ - 8) + "\" text-anchor=\"end\">" + escaped(x_.label) + "</text>\n";
  out += "<text x=\"" + coordinate(4) + "\" y=\"" + coordinate(14) + "\">" + escaped(y_.label) + "</text>\n";
  return out + body_ + "</svg>\n";
}

}  // namespace rollwright::report
