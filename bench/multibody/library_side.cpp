#include "library_side.h"

#include <Simbody.h>

#include <algorithm>
#include <cmath>
#include <ctime>

namespace multibody {

double processor_seconds() { return static_cast<double>(std::clock()) / CLOCKS_PER_SEC; }

namespace {

using SimTK::Vec3;
constexpr double kSpeedHold = 100.0;  // [1/s] of thrust per speed error: holds 22 m/s to 1e-4, and is no quicker than wheel hop

// Everything that acts on the car of the library but gravity.
class CarForces : public SimTK::Force::Custom::Implementation {
 public:
  CarForces(const SimTK::GeneralForceSubsystem& forces, const SimTK::SimbodyMatterSubsystem& matter, SimTK::MobilizedBodyIndex track,
            SimTK::MobilizedBodyIndex body, std::array<SimTK::MobilizedBodyIndex, 4> wheels, const Car& car, double angle)
      : forces_(forces), matter_(matter), track_(track), body_(body), wheels_(wheels), car_(car), angle_(angle) {}

  void realizeTopology(SimTK::State& s) const override { lag_ = forces_.allocateZ(s, SimTK::Vector(4, 0.0)); }
  void realizeAcceleration(const SimTK::State& s) const override {
    const auto slips = contact(s).slip;
    auto& rate = forces_.updZDot(s);
    for (int w = 0; w < 4; ++w) {
      rate[lag_ + w] = kSpeed / car_.wheel[w].relaxation * (slips[w] - forces_.getZ(s)[lag_ + w]);
    }
  }
  bool dependsOnlyOnPositions() const override { return false; }

  void calcForce(const SimTK::State& s, SimTK::Vector_<SimTK::SpatialVec>& bodies, SimTK::Vector_<Vec3>&, SimTK::Vector& mobilities) const override {
    const Contact c = contact(s);
    std::array<double, 4> d, rate;
    for (int w = 0; w < 4; ++w) {
      d[w] = matter_.getMobilizedBody(wheels_[w]).getOneQ(s, 0);
      rate[w] = matter_.getMobilizedBody(wheels_[w]).getOneU(s, 0);
    }
    for (std::size_t w = 0; w < 4; ++w) {
      const Wheel& k = car_.wheel[w];
      const auto& wheel = matter_.getMobilizedBody(wheels_[w]);
      const double side = car_.side_force(static_cast<int>(w), forces_.getZ(s)[lag_ + static_cast<int>(w)], c.load[w]);
      const double steer = w < 2 ? steer_at(s.getTime(), angle_) : 0.0;
      const Vec3 across = -std::sin(steer) * c.ahead + std::cos(steer) * c.left;
      wheel.applyForceToBodyPoint(s, Vec3(0), side * across + c.load[w] * Vec3(0, 0, 1), bodies);
      const double bar = 0.5 * k.bar * (d[w] - d[w ^ 1U]);
      wheel.applyOneMobilityForce(s, 0, -(k.spring_force + k.spring * d[w] + k.damping * rate[w] + bar), mobilities);
    }
    const auto& track = matter_.getMobilizedBody(track_);
    const double speed = dot(track.getBodyOriginVelocity(s), c.ahead);
    track.applyForceToBodyPoint(s, Vec3(0), car_.whole_mass * kSpeedHold * (kSpeed - speed) * c.ahead, bodies);
  }
  double calcPotentialEnergy(const SimTK::State&) const override { return 0.0; }

 private:
  struct Contact {
    Vec3 ahead, left;
    std::array<double, 4> load{}, slip{};
  };
  Contact contact(const SimTK::State& s) const {
    Contact c;
    const double heading = matter_.getMobilizedBody(track_).getOneQ(s, 0);
    c.ahead = Vec3(std::cos(heading), std::sin(heading), 0);
    c.left = Vec3(-std::sin(heading), std::cos(heading), 0);
    for (std::size_t w = 0; w < 4; ++w) {
      const auto& wheel = matter_.getMobilizedBody(wheels_[w]);
      const Vec3 v = wheel.getBodyOriginVelocity(s);
      c.load[w] = std::max(0.0, car_.wheel[w].load - car_.wheel[w].tyre_stiffness * wheel.getBodyOriginLocation(s)[2]);
      c.slip[w] = std::atan2(dot(v, c.left), dot(v, c.ahead)) - (w < 2 ? steer_at(s.getTime(), angle_) : 0.0);
    }
    return c;
  }
  const SimTK::GeneralForceSubsystem& forces_;
  const SimTK::SimbodyMatterSubsystem& matter_;
  SimTK::MobilizedBodyIndex track_, body_;
  std::array<SimTK::MobilizedBodyIndex, 4> wheels_;
  Car car_;
  double angle_;
  mutable SimTK::ZIndex lag_;
};

}  // namespace

Run by_library(const Car& p, double angle, double accuracy) {
  using namespace SimTK;
  MultibodySystem system;
  SimbodyMatterSubsystem matter(system);
  GeneralForceSubsystem forces(system);
  Force::Gravity(forces, matter, Vec3(0, 0, -9.80665));
  const Body::Rigid nothing(MassProperties(0, Vec3(0), Inertia(0)));
  // Frames: a slide moves along x and a pin turns about z of its joint, so joints are turned to lie along z, y and x.
  const Rotation z_along_x(SimTK::Pi / 2, YAxis), z_along_y(-SimTK::Pi / 2, XAxis), x_along_z(-SimTK::Pi / 2, YAxis);
  MobilizedBody::Planar track(matter.Ground(), Transform(), nothing, Transform());
  MobilizedBody::Slider heave(track, Transform(x_along_z), nothing, Transform(x_along_z));
  MobilizedBody::Pin pitch(heave, Transform(z_along_y), nothing, Transform(z_along_y));
  const Inertia about_cg(p.Ixx, p.Iyy, p.Izz);
  const Vec3 cg(0, 0, p.height);
  const Body::Rigid sprung(MassProperties(p.mass, cg, about_cg.shiftFromMassCenter(cg, p.mass)));
  MobilizedBody::Pin body(pitch, Transform(z_along_x), sprung, Transform(z_along_x));
  std::array<MobilizedBodyIndex, 4> wheels;
  for (std::size_t w = 0; w < 4; ++w) {
    const double m = p.wheel[w].mass;
    const Vec3 centre(0, 0, p.wheel[w].centre_height);
    const Body::Rigid wheel(MassProperties(m, centre, Inertia(0).shiftFromMassCenter(centre, m)));
    MobilizedBody::Slider slide(body, Transform(x_along_z, Vec3(p.wheel[w].x, p.wheel[w].y, 0)), wheel, Transform(x_along_z));
    wheels[w] = slide.getMobilizedBodyIndex();
  }
  Force::Custom(forces, new CarForces(forces, matter, track.getMobilizedBodyIndex(), body.getMobilizedBodyIndex(), wheels, p, angle));
  system.realizeTopology();
  SimTK::State state = system.getDefaultState();
  state.updU() = 0;
  track.setOneU(state, 1, kSpeed);
  RungeKuttaMersonIntegrator integrator(system);
  integrator.setAccuracy(accuracy);
  integrator.initialize(state);
  Run run;
  TimeStepper stepper(system, integrator);
  const double begin = processor_seconds();
  for (int i = 1; i <= kInstants; ++i) {
    stepper.stepTo(kEnd * i / kInstants);
    run.roll.push_back(body.getOneQ(integrator.getState(), 0));
    run.yaw_rate.push_back(track.getOneU(integrator.getState(), 0));
  }
  run.seconds = processor_seconds() - begin;
  return run;
}

}  // namespace multibody
