#include "bar/model.h"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

#include "base/assert.h"

namespace rollwright::bar {

namespace {

constexpr double kOnLine = 2e-3;      // a hole or bushing this near the centreline lies on it: what a tape can tell
constexpr double kMostTilt = 10.0;    // [deg] between the bar in a mount and the axis through the mounts
constexpr double kLeastLink = 0.03;   // [m] two joints need about this; common practice, no source
constexpr double kPi = std::numbers::pi;

Vec3 vec(const Point& p) { return {p[0].si(), p[1].si(), p[2].si()}; }

std::string mm(double metres) {
  char text[32];
  std::snprintf(text, sizeof text, "%.1f mm", metres * 1000.0);
  return text;
}

std::string at(const char* list, std::size_t i) { return std::string(list) + "[" + std::to_string(i) + "]"; }

class Compiler {
 public:
  Compiler(const Bar& bar, MountWidth width) : bar_(bar), width_(width) {}

  base::Outcome<BarModel> run() {
    check_sections();
    check_material();
    auto line = Centreline::make(bar_.centreline_right_to_left, sections_ok_ ? 0.5 * thinnest() : 0.0);
    if (!line) {
      problems_.insert(problems_.end(), line.error().begin(), line.error().end());
      return base::fail(std::move(problems_));
    }
    m_.line = std::move(*line);
    place_mounts();
    if (mounts_ok_) {
      find_arms();
      place_holes();
      read_settings();
    }
    if (!problems_.empty()) return base::fail(std::move(problems_));
    lay_sections();
    if (!problems_.empty()) return base::fail(std::move(problems_));
    lay_points();
    m_.is_plain = m_.mounts.size() == 2 && m_.joints.empty() &&
                  std::all_of(m_.mounts.begin(), m_.mounts.end(), [](const ModelMount& q) { return q.stiff_tilt == 0.0 && q.stiff_torsion == 0.0; });
    return std::move(m_);
  }

 private:
  void refuse(const char* code, std::string where, std::string message, std::string allowed = {}, std::string hint = {}) {
    problems_.push_back(base::input_problem(code, std::move(where), std::move(message), std::move(allowed), std::move(hint)));
  }

  // Thickness below which a bend or a crossing is impossible whatever the section there.
  [[nodiscard]] double thinnest() const {
    double least = bar_.section.shape == SectionShape::round ? bar_.section.outer_diameter.si() : bar_.section.thickness.si();
    for (const auto* arm : {&bar_.arm_section_left, &bar_.arm_section_right}) {
      if (*arm) least = std::min(least, (*arm)->shape == SectionShape::round ? (*arm)->outer_diameter.si() : (*arm)->thickness.si());
    }
    return least;
  }

  void check_sections() {
    const std::size_t before = problems_.size();
    const auto look = [&](const Section& s, const std::string& where) {
      auto found = check_section(s, where);
      problems_.insert(problems_.end(), found.begin(), found.end());
    };
    look(bar_.section, "section");
    if (bar_.arm_section_right) look(*bar_.arm_section_right, "arm_section");
    if (bar_.arm_section_left) {
      auto found = check_section(*bar_.arm_section_left, "arm_section");
      // Arms that are alike are one entry of the sheet and one problem.
      for (auto& p : found) {
        const bool known = std::any_of(problems_.begin(), problems_.end(), [&](const base::Problem& q) {
          return q.code == p.code && q.where == p.where;
        });
        if (!known) problems_.push_back(std::move(p));
      }
    }
    for (std::size_t i = 0; i < bar_.section_changes.size(); ++i) {
      const auto& c = bar_.section_changes[i];
      look(c.section, at("section_changes", i) + ".section");
      if (c.end_section) {
        look(*c.end_section, at("section_changes", i) + ".end_section");
        if (c.end_section->shape != c.section.shape) {
          refuse("taper_changes_shape", at("section_changes", i) + ".end_section.shape",
                 "A taper keeps its shape from end to end.", "the shape of `section`",
                 "Split the stretch in two where a round bar becomes flat.");
        }
      }
    }
    sections_ok_ = problems_.size() == before;
  }

  void check_material() {
    const auto& s = bar_.material;
    if (!(s.young.si() > 1e9 && s.young.si() < 1e12)) {
      refuse("young_out_of_range", "material.young_mpa", "This modulus is not that of a metal bar.", "1000 to 1000000 MPa",
             "Steel is about 206000 MPa.");
    }
    if (!(s.poisson >= 0.0 && s.poisson < 0.5)) {
      refuse("poisson_out_of_range", "material.poisson", "Poisson's ratio of a solid lies between 0 and 0.5.", "0 to 0.5",
             "Steel is about 0.3.");
    }
    if (!(s.density.si() > 100.0 && s.density.si() < 30000.0)) {
      refuse("density_out_of_range", "material.density_kg_per_m3", "This density is not that of a metal bar.",
             "100 to 30000 kg/m³", "Steel is about 7850 kg/m³.");
    }
    m_.young = s.young.si();
    m_.poisson = s.poisson;
    m_.shear = s.young.si() / (2.0 * (1.0 + s.poisson));
    m_.density = s.density.si();
  }

  void place_mounts() {
    const std::size_t before = problems_.size();
    if (bar_.bushings.size() < 2) {
      refuse("too_few_bushings", "bushings", "A bar needs two chassis bushings to push against; this one has " +
             std::to_string(bar_.bushings.size()) + ".", "2 to 6", "Add the bushing of the other side.");
    }
    if (bar_.bushings.size() > 6) {
      refuse("too_many_bushings", "bushings", "This bar has " + std::to_string(bar_.bushings.size()) + " bushings.", "2 to 6");
    }
    int stops = 0;
    std::size_t stop_bushing = 0;
    for (std::size_t i = 0; i < bar_.bushings.size(); ++i) {
      const Bushing& b = bar_.bushings[i];
      const std::string where = at("bushings", i);
      const Vec3 p = vec(b.point);
      const auto near = m_.line.nearest(p);
      if (near.is_beyond_end) {
        refuse("bushing_outside_bar", where + ".point_mm", "This bushing lies " + mm(near.distance) + " beyond the end of the bar.",
               "a point on the straight of the centreline", "Check the sign of y: left is positive.");
        continue;
      }
      // A bushing entered where the straight's prolongation is, beside the bend, is meant to be on the bend.
      const Piece& piece = m_.line.pieces()[m_.line.piece_at(near.station)];
      if (piece.radius > 0.0 && near.station > piece.start + 1e-6 && near.station < piece.end - 1e-6 &&
          near.distance < 0.5 * piece.radius) {
        refuse("bushing_on_bend", where + ".point_mm", "This bushing sits on a bend, where the bar could not turn in it.",
               "a point on a straight", "Move it at least " + mm(std::min(near.station - piece.start, piece.end - near.station)) +
               " along the bar, or check the bend's radius.");
        continue;
      }
      if (near.distance > kOnLine) {
        const Vec3 on = m_.line.point(near.station);
        refuse("bushing_off_bar", where + ".point_mm", "This bushing lies " + mm(near.distance) + " beside the centreline.",
               "within 2 mm of the centreline",
               "The nearest place on the bar is [" + mm(on.x) + ", " + mm(on.y) + ", " + mm(on.z) + "].");
        continue;
      }
      if (b.radial_stiffness && !(b.radial_stiffness->si() > 0.0)) {
        refuse("stiffness_not_positive", where + ".radial_stiffness_n_per_mm", "A bushing without stiffness holds nothing.",
               "above 0 N/mm", "Give null for a rigid mount.");
      }
      if (b.tilt_stiffness && !(b.tilt_stiffness->si() >= 0.0)) {
        refuse("stiffness_negative", where + ".tilt_stiffness_nm_per_deg", "A stiffness cannot be negative.", "0 or more");
      }
      if (!(b.torsional_stiffness.si() >= 0.0)) {
        refuse("stiffness_negative", where + ".torsional_stiffness_nm_per_deg", "A stiffness cannot be negative.", "0 or more");
      }
      if (!(b.width.si() >= 0.0 && b.width.si() < 1.0)) refuse("width_negative", where + ".width_mm", "This is not the width of a bushing.", "0 mm to 1000 mm");
      if (!(b.friction.si() >= 0.0 && b.friction.si() < 1e6)) refuse("friction_negative", where + ".friction_nm", "This is not the friction of a bushing.", "0 or more");
      ModelMount mount;
      mount.index = i;
      mount.side = b.side;
      mount.station = near.station;
      mount.r = m_.line.point(near.station);
      mount.flex_radial = b.radial_stiffness && b.radial_stiffness->si() > 0.0 ? 1.0 / b.radial_stiffness->si() : 0.0;
      mount.stiff_tilt = b.tilt_stiffness ? b.tilt_stiffness->si() : 0.0;
      mount.stiff_torsion = b.torsional_stiffness.si();
      mount.friction = b.friction.si();
      mount.width = b.width.si();
      if (width_ == MountWidth::stiffest && mount.width > 0.0 && !b.tilt_stiffness) {
        if (mount.flex_radial > 0.0) {
          mount.stiff_tilt = mount.width * mount.width / (12.0 * mount.flex_radial);
          m_.mounts.push_back(mount);
        } else {
          // Rings as far apart as the straight allows.
          ModelMount ring = mount;
          ring.stiff_torsion *= 0.5;
          for (const double side : {-0.5, 0.5}) {
            ring.station = std::clamp(mount.station + side * mount.width, piece.start, piece.end);
            ring.r = m_.line.point(ring.station);
            m_.mounts.push_back(ring);
          }
        }
      } else {
        m_.mounts.push_back(mount);
      }
      if (b.is_side_stop) {
        ++stops;
        stop_bushing = i;
      }
    }
    if (stops > 1) {
      refuse("too_many_side_stops", "bushings", "Only one bushing can be the side stop.", "one `is_side_stop` at most",
             "Collars on both sides of one bushing count as one stop.");
    }
    if (problems_.size() != before) return;

    std::sort(m_.mounts.begin(), m_.mounts.end(), [](const auto& a, const auto& b) { return a.station < b.station; });
    for (std::size_t i = 1; i < m_.mounts.size(); ++i) {
      if (m_.mounts[i].index != m_.mounts[i - 1].index && m_.mounts[i].station - m_.mounts[i - 1].station < 5e-3) {
        refuse("bushings_coincide", at("bushings", m_.mounts[i].index) + ".point_mm",
               "This bushing sits where another one sits already.", "at least 5 mm apart", "Remove one of the two.");
      }
      if (m_.mounts[i].side == Side::right && m_.mounts[i - 1].side == Side::left) {
        refuse("bushing_on_wrong_side", at("bushings", m_.mounts[i].index) + ".side",
               "A bushing called right lies to the left of one called left.", "right nearer to the right end of the line",
               "The centreline runs from the right arm to the left arm; y is positive to the left.");
      }
    }
    const bool has_both = !m_.mounts.empty() && m_.mounts.front().side == Side::right && m_.mounts.back().side == Side::left;
    if (!has_both && problems_.size() == before) {
      refuse("bushings_on_one_side", "bushings", "All bushings are said to be on one side.", "at least one right and one left");
    }
    if (problems_.size() != before) return;

    m_.first = 0;
    m_.last = m_.mounts.size() - 1;
    m_.axis = unit(m_.mounts[m_.last].r - m_.mounts[m_.first].r);
    m_.side_stop = m_.last;
    for (std::size_t i = 0; i < m_.mounts.size(); ++i) {
      if (stops == 1 && m_.mounts[i].index == stop_bushing) m_.side_stop = i;
      const std::string where = at("bushings", m_.mounts[i].index) + ".point_mm";
      const Piece& piece = m_.line.pieces()[m_.line.piece_at(m_.mounts[i].station)];
      const Vec3 t = Centreline::tangent(piece, m_.mounts[i].station);
      const double tilt = std::atan2(norm(cross(t, m_.axis)), dot(t, m_.axis)) * 180.0 / kPi;
      if (tilt > kMostTilt) {
        char text[120];
        std::snprintf(text, sizeof text, "The bar passes this bushing at %.0f deg to the line through the bushings, so it could not turn.", tilt);
        refuse("bushing_not_on_axis", where, text, "within 10 deg", "Both bushings must sit on straights in one line.");
      }
      const double off = norm(square_to(m_.mounts[i].r - m_.mounts[m_.first].r, m_.axis));
      if (off > kOnLine) {
        refuse("bushing_not_on_axis", where, "This bushing lies " + mm(off) + " beside the line through the outer two, so the bar could not turn.",
               "within 2 mm of that line", "All bushings must sit in one line.");
      }
    }
    mounts_ok_ = problems_.size() == before;
  }

  // The arms begin at the first corner outward from the outermost bushings: after its bend, or at its mitre.
  void find_arms() {
    const auto& pieces = m_.line.pieces();
    const double right = m_.mounts.front().station, left = m_.mounts.back().station;
    arm_right_ = 0.0;
    arm_left_ = m_.line.length();
    has_arm_right_ = has_arm_left_ = false;
    std::size_t i = m_.line.piece_at(right);
    if (i > 0) {
      has_arm_right_ = true;
      arm_right_ = pieces[i - 1].radius > 0.0 ? pieces[i - 1].start : pieces[i - 1].end;
      joint_right_ = pieces[i].start;
    }
    i = m_.line.piece_at(std::max(0.0, left - 1e-9));
    if (i + 1 < pieces.size()) {
      has_arm_left_ = true;
      arm_left_ = pieces[i + 1].radius > 0.0 ? pieces[i + 1].end : pieces[i + 1].start;
      joint_left_ = pieces[i].end;
    }
  }

  void place_holes() {
    const std::size_t before = problems_.size();
    int count_left = 0, count_right = 0;
    if (bar_.holes.size() > 40) refuse("too_many_holes", "holes", "This bar has more than 40 holes.", "up to 20 on each arm");
    const double right = m_.mounts.front().station, left = m_.mounts.back().station;
    for (std::size_t i = 0; i < bar_.holes.size(); ++i) {
      const Hole& h = bar_.holes[i];
      const std::string where = at("holes", i);
      ModelHole hole;
      hole.id = h.id;
      hole.side = h.side;
      ++(h.side == Side::left ? count_left : count_right);
      if (h.id.empty()) refuse("hole_without_id", where + ".id", "A hole needs a name.", "for example 1, 2, 3 or L1");
      for (std::size_t j = 0; j < i; ++j) {
        if (bar_.holes[j].id == h.id && bar_.holes[j].side == h.side) {
          refuse("hole_named_twice", where + ".id", "Two holes of one arm are called " + h.id + ".", "a name of its own");
        }
      }
      if (h.point.has_value() == h.back_from_arm_end.has_value()) {
        refuse("hole_without_place", where, h.point ? "This hole has two places." : "This hole has no place.",
               "either point_mm or back_from_arm_end_mm", "The distance back from the arm's end along the bar is the easier one to measure.");
        continue;
      }
      if (h.point) {
        const auto near = m_.line.nearest(vec(*h.point));
        if (near.distance > kOnLine && near.is_beyond_end) {
          refuse("hole_beyond_arm", where + ".point_mm", "This hole lies " + mm(near.distance) + " beyond the end of the arm.",
                 "a point on the arm", "Measure the arm to its very end, or the hole's distance back from it.");
          continue;
        }
        if (near.distance > kOnLine) {
          const Vec3 on = m_.line.point(near.station);
          refuse("hole_off_bar", where + ".point_mm", "This hole lies " + mm(near.distance) + " beside the centreline.",
                 "within 2 mm of the centreline", "The nearest place on the bar is [" + mm(on.x) + ", " + mm(on.y) + ", " + mm(on.z) + "].");
          continue;
        }
        hole.station = near.station;
      } else {
        const double back = h.back_from_arm_end->si();
        const double arm = h.side == Side::right ? right : m_.line.length() - left;
        if (!(back >= 0.0)) {
          refuse("hole_beyond_arm", where + ".back_from_arm_end_mm", "This hole lies " + mm(-back) + " beyond the end of the arm.",
                 "0 mm or more", "0 is the end of the arm itself.");
          continue;
        }
        if (back >= arm) {
          refuse("hole_not_on_arm", where + ".back_from_arm_end_mm", "This hole would lie inboard of the bushing: the bar is only " +
                 mm(arm) + " long from the arm's end to the bushing.", "less than " + mm(arm));
          continue;
        }
        hole.station = h.side == Side::right ? back : m_.line.length() - back;
      }
      hole.r = m_.line.point(hole.station);
      const bool is_outboard = h.side == Side::right ? hole.station < right - 1e-6 : hole.station > left + 1e-6;
      if (!is_outboard) {
        refuse("hole_not_on_arm", where, std::string("This hole is not on the ") + (h.side == Side::left ? "left" : "right") +
               " arm: it lies inboard of that side's bushing.", "outboard of the bushing",
               "Check the sign of y: left is positive.");
        continue;
      }
      const double lever = norm(square_to(hole.r - m_.mounts[m_.first].r, m_.axis));
      if (lever < 5e-3) {
        refuse("hole_without_lever", where, "This hole lies on the bar's own axis, so a link there cannot twist the bar.",
               "at least 5 mm from the axis", "Check that the arm's points are not on the straight.");
        continue;
      }
      hole.link = {0, 0, 1};
      if (h.link_other_end) {
        hole.has_link_end = true;
        hole.link_end = vec(*h.link_other_end);
        const Vec3 d = hole.r - hole.link_end;
        if (!(norm(d) < 100.0)) {
          refuse("link_too_long", where + ".link_other_end_mm", "This link would be more than 100 m long.", "the centre of the link's other joint",
                 "Check the unit: points are in millimetres.");
          continue;
        }
        if (norm(d) < kLeastLink) {
          refuse("link_too_short", where + ".link_other_end_mm", "A link of " + mm(norm(d)) + " is shorter than its two joints.",
                 "at least " + mm(kLeastLink), "Give the centre of the link's other joint.");
          continue;
        }
        hole.link = unit(d);
        if (hole.link.z < 0.0) hole.link = -hole.link;
      }
      const double arm = dot(m_.axis, cross(hole.r - m_.mounts[m_.first].r, hole.link));
      if (std::abs(arm) < 0.05 * lever) {
        refuse("link_over_centre", where, "The link points at the bar's axis, so it cannot twist the bar.",
               "a link at more than 3 deg to the arm's own line", "Check the hole and the link's other end.");
        continue;
      }
      m_.holes.push_back(hole);
    }
    if (count_left == 0) refuse("no_hole", "holes", "The left arm has no hole.", "at least one on each side");
    if (count_right == 0) refuse("no_hole", "holes", "The right arm has no hole.", "at least one on each side");
    holes_ok_ = problems_.size() == before;
  }

  void read_settings() {
    const auto find = [&](const std::string& id, Side side) -> std::optional<std::size_t> {
      for (std::size_t i = 0; i < m_.holes.size(); ++i) {
        if (m_.holes[i].id == id && m_.holes[i].side == side) return i;
      }
      return std::nullopt;
    };
    const auto names = [&](Side side) {
      std::string list;
      for (const auto& h : bar_.holes) {
        if (h.side == side) list += (list.empty() ? "" : ", ") + h.id;
      }
      return list;
    };
    const auto is_declared = [&](const std::string& id, Side side) {
      return std::any_of(bar_.holes.begin(), bar_.holes.end(), [&](const Hole& h) { return h.id == id && h.side == side; });
    };
    for (std::size_t i = 0; i < bar_.settings.size(); ++i) {
      const Setting& s = bar_.settings[i];
      const std::string where = at("settings", i);
      if (!is_declared(s.left_hole, Side::left)) {
        refuse("unknown_hole", where + ".left_hole", "The left arm has no hole called " + s.left_hole + ".", names(Side::left));
      }
      if (!is_declared(s.right_hole, Side::right)) {
        refuse("unknown_hole", where + ".right_hole", "The right arm has no hole called " + s.right_hole + ".", names(Side::right));
      }
      const auto left = find(s.left_hole, Side::left), right = find(s.right_hole, Side::right);
      if (left && right) m_.settings.push_back({s.id.empty() ? s.left_hole + "/" + s.right_hole : s.id, *left, *right});
    }
    if (!bar_.settings.empty() || !holes_ok_) return;
    // No settings asked for: every pair of a left and a right hole.
    for (std::size_t l = 0; l < m_.holes.size(); ++l) {
      for (std::size_t r = 0; r < m_.holes.size(); ++r) {
        if (m_.holes[l].side == Side::left && m_.holes[r].side == Side::right) {
          m_.settings.push_back({m_.holes[l].id + "/" + m_.holes[r].id, l, r});
        }
      }
    }
  }

  void lay_sections() {
    const double length = m_.line.length();
    struct Over {
      double from, to;
      Section a, b;
      bool tapered;
    };
    std::vector<Over> over;
    if (bar_.arm_section_right) {
      if (!has_arm_right_) refuse("arm_section_without_arm", "arm_section", "The right end has no corner after its bushing, so there is no arm.", "a centreline with arms");
      over.push_back({0.0, arm_right_, *bar_.arm_section_right, *bar_.arm_section_right, false});
    }
    if (bar_.arm_section_left) {
      if (!has_arm_left_) refuse("arm_section_without_arm", "arm_section", "The left end has no corner after its bushing, so there is no arm.", "a centreline with arms");
      over.push_back({arm_left_, length, *bar_.arm_section_left, *bar_.arm_section_left, false});
    }
    const std::size_t first_change = over.size();
    for (std::size_t i = 0; i < bar_.section_changes.size(); ++i) {
      const auto& c = bar_.section_changes[i];
      const std::string where = at("section_changes", i);
      const double from = c.from.si(), to = c.to.si();
      if (!(from >= 0.0 && to <= length + 1e-6 && from < to)) {
        refuse("stretch_outside_bar", where, "A stretch from " + mm(from) + " to " + mm(to) + " does not fit the bar.",
               "0 to " + mm(length) + ", from before to", "Stations run along the centreline from the right arm's end.");
        continue;
      }
      for (std::size_t j = first_change; j < over.size(); ++j) {
        if (from < over[j].to - 1e-9 && to > over[j].from + 1e-9) {
          refuse("stretches_overlap", where, "This stretch overlaps another one.", "stretches side by side");
        }
      }
      over.push_back({from, std::min(to, length), c.section, c.end_section.value_or(c.section), c.end_section.has_value()});
    }
    if (!problems_.empty()) return;

    std::vector<double> cuts{0.0, length};
    for (const auto& o : over) {
      cuts.push_back(o.from);
      cuts.push_back(o.to);
    }
    for (const auto& m : m_.mounts) cuts.push_back(m.station);
    for (const auto& h : m_.holes) cuts.push_back(h.station);
    for (const auto& p : m_.line.pieces()) cuts.push_back(p.start);
    std::sort(cuts.begin(), cuts.end());
    cuts.erase(std::unique(cuts.begin(), cuts.end(), [](double a, double b) { return b - a < 1e-9; }), cuts.end());
    for (std::size_t i = 0; i + 1 < cuts.size(); ++i) {
      const double a = cuts[i], b = cuts[i + 1], mid = 0.5 * (a + b);
      Stretch stretch{m_.line.piece_at(mid), a, b, bar_.section, bar_.section, false};
      for (const auto& o : over) {  // later entries lie over earlier ones
        if (mid > o.from && mid < o.to) {
          stretch.is_tapered = o.tapered;
          stretch.at_start = o.tapered ? between(o.a, o.b, (a - o.from) / (o.to - o.from)) : o.a;
          stretch.at_end = o.tapered ? between(o.a, o.b, (b - o.from) / (o.to - o.from)) : o.a;
        }
      }
      m_.stretches.push_back(stretch);
    }
    if (bar_.arm_clamp) {
      const auto& c = *bar_.arm_clamp;
      for (const auto& [k, key] : {std::pair{c.torsional_stiffness, "arm_clamp.torsional_stiffness_nm_per_deg"},
                                   std::pair{c.bending_stiffness, "arm_clamp.bending_stiffness_nm_per_deg"}}) {
        if (k && !(k->si() > 0.0)) refuse("stiffness_not_positive", key, "A clamp without stiffness holds nothing.", "above 0, or null for rigid");
      }
      if (!has_arm_right_ || !has_arm_left_) refuse("arm_clamp_without_arm", "arm_clamp", "There are no arms to clamp.", "a centreline with arms");
      if (!problems_.empty()) return;
      for (const double s : {joint_right_, joint_left_}) {
        ModelJoint j;
        j.station = s;
        j.r = m_.line.point(s);
        j.t = m_.axis;
        j.flex_torsion = c.torsional_stiffness ? 1.0 / c.torsional_stiffness->si() : 0.0;
        j.flex_bending = c.bending_stiffness ? 1.0 / c.bending_stiffness->si() : 0.0;
        m_.joints.push_back(j);
      }
    }
  }

  void lay_points() {
    // Two Gauss points integrate the square of a linear section force exactly; three over 15 deg of arc leave less than
    // 1e-8, and over a quarter of a taper less than 1e-6.
    static constexpr std::array<double, 2> kX2{-0.5773502691896257, 0.5773502691896257}, kW2{1.0, 1.0};
    static constexpr std::array<double, 3> kX3{-0.7745966692414834, 0.0, 0.7745966692414834},
        kW3{0.5555555555555556, 0.8888888888888888, 0.5555555555555556};
    for (const Stretch& q : m_.stretches) {
      const Piece& piece = m_.line.pieces()[q.piece];
      const double length = q.end - q.start;
      int cells = 1;
      if (q.is_tapered) cells = 6;
      if (piece.radius > 0.0) cells = std::max(cells, static_cast<int>(std::ceil(length / piece.radius / (35.0 * kPi / 180.0))));
      const bool two = !q.is_tapered && piece.radius == 0.0;
      const SectionProperties constant = properties_of(q.at_start, m_.poisson);
      for (int c = 0; c < cells; ++c) {
        const double a = q.start + length * c / cells, h = length / cells;
        for (std::size_t g = 0; g < (two ? 2u : 3u); ++g) {
          const double x = two ? kX2[g] : kX3[g], w = two ? kW2[g] : kW3[g];
          LinePoint lp;
          lp.station = a + 0.5 * h * (1.0 + x);
          lp.weight = 0.5 * h * w;
          const SectionProperties p = q.is_tapered ? properties_of(between(q.at_start, q.at_end, (lp.station - q.start) / length), m_.poisson) : constant;
          lp.r = Centreline::point(piece, lp.station);
          m_.frame_at(q, lp.station, lp.t, lp.e2, lp.e3);
          lp.flex_torsion = 1.0 / (m_.shear * p.torsion_constant);
          lp.flex_2 = 1.0 / (m_.young * p.second_moment_2);
          lp.flex_3 = 1.0 / (m_.young * p.second_moment_3);
          lp.flex_shear = 1.0 / (p.shear_factor * m_.shear * p.area);
          lp.flex_axial = 1.0 / (m_.young * p.area);
          m_.mass += lp.weight * p.area * m_.density;
          m_.points.push_back(lp);
        }
      }
      if (piece.radius > 0.0 && constant.is_round && constant.inner_radius > 0.0) m_.has_tube_bends = true;
    }
  }

  const Bar& bar_;
  MountWidth width_;
  BarModel m_;
  base::Problems problems_;
  bool sections_ok_ = false, mounts_ok_ = false, holes_ok_ = false;
  bool has_arm_right_ = false, has_arm_left_ = false;
  double arm_right_ = 0.0, arm_left_ = 0.0, joint_right_ = 0.0, joint_left_ = 0.0;
};

}  // namespace

const Stretch& BarModel::stretch_at(double station, bool before) const {
  ROLLWRIGHT_ASSERT(!stretches.empty());
  const double s = station + (before ? -1e-9 : 1e-9);
  for (const Stretch& q : stretches) {
    if (s < q.end) return q;
  }
  return stretches.back();
}

Section BarModel::section_at(double station, bool before) const {
  const Stretch& q = stretch_at(station, before);
  if (!q.is_tapered) return q.at_start;
  return between(q.at_start, q.at_end, std::clamp((station - q.start) / (q.end - q.start), 0.0, 1.0));
}

void BarModel::frame_at(const Stretch& q, double station, Vec3& t, Vec3& e2, Vec3& e3) const {
  const Piece& piece = line.pieces()[q.piece];
  // The wide side starts in the vertical plane through the line and leans outward by its angle; a bend carries it along,
  // from its inboard end on both sides, so that mirrored bars mirror.
  const Vec3 middle = 0.5 * (mounts[first].r + mounts[last].r);
  const double side = dot(piece.point - middle, axis) + dot(line.point(piece, piece.end) - middle, axis) >= 0.0 ? 1.0 : -1.0;
  const double from = side > 0.0 ? piece.start : piece.end;
  const Vec3 start = Centreline::tangent(piece, from);
  const Vec3 up = square_unit(start, {0, 0, 1});
  const Vec3 outward = square_to(side * axis, start);
  const double sense = dot(cross(start, up), outward) >= 0.0 ? 1.0 : -1.0;
  e2 = turned(up, start, sense * q.at_start.wide_side_from_vertical.si());
  t = Centreline::tangent(piece, station);
  if (piece.radius > 0.0) e2 = turned(e2, cross(piece.tangent, piece.to_centre), (station - from) / piece.radius);
  e3 = cross(t, e2);
}

base::Outcome<BarModel> compile(const Bar& bar, MountWidth width) { return Compiler(bar, width).run(); }

}  // namespace rollwright::bar
