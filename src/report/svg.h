// A small drawing board for plots: axes in the plot's own units, everything else in them too.
//
// Made for paper: black on white, before dashed with open circles, after solid with filled triangles, so that nothing
// depends on colour. Numbers are rounded to a tenth of a unit of the drawing.
#pragma once

#include <string>
#include <utility>
#include <vector>

namespace rollwright::report {

using PlotPoint = std::pair<double, double>;

// Text made safe inside HTML and SVG.
std::string escaped(const std::string& text);

struct Axis {
  double low = 0.0, high = 1.0;
  std::string label;   // with its unit
  double step = 0.0;   // between ticks; 0: chosen so that five or six fit
  int decimals = 1;
};

class Plot {
 public:
  // `title` is what a screen reader says; width and height in drawing units.
  Plot(std::string title, Axis x, Axis y, double width = 560, double height = 320);

  void line(const std::vector<PlotPoint>& points, const std::string& css_class);
  void circle(PlotPoint at, const std::string& css_class, double radius = 4);
  void triangle(PlotPoint at, const std::string& css_class, double size = 6);
  void cross(PlotPoint at, const std::string& css_class, double size = 5);
  // `dx`, `dy` move the text from the point, in drawing units; anchor "start", "middle" or "end".
  void text(PlotPoint at, const std::string& words, const std::string& anchor = "start", double dx = 6, double dy = 4);
  void upright(double x, const std::string& css_class);
  // A standing rectangle from the axis to `high` in drawing units between two x places, for loads.
  void region(double x_low, double x_high, const std::string& css_class);

  [[nodiscard]] std::string svg() const;

 private:
  [[nodiscard]] double px(double x) const;
  [[nodiscard]] double py(double y) const;

  std::string title_, body_;
  Axis x_, y_;
  double width_, height_;
};

// One decimal, no trailing zeros: for coordinates.
std::string coordinate(double value);

}  // namespace rollwright::report
