#include "ops/documents/marks_sheet.h"

namespace rollwright::ops {

namespace unit = base::unit;

void MarkSheet::describe(base::RecordType<MarkSheet>& r) {
  r.about("One point on the picture. The two of a left–right pair have the same name but for the words left and right.");
  r.field<&MarkSheet::name>("name", "What it is: 'lamp left', 'plate', 'tyre right'.").required();
  r.field<&MarkSheet::what>("what", "A point of the body, where a tyre meets the road, the centre of a wheel, or an end of a level thing.").required();
  r.field<&MarkSheet::side>("side", "Side of the car, as the driver sees it; of a level thing, side of the picture.").required();
  r.field<&MarkSheet::px>("px", "Pixel to the right and down, on the upright picture, from the centre of its top-left pixel.").required();
  r.field<&MarkSheet::place>("place", unit::mm, "Where it is on the car, if measured: ahead of the marked axle, left of the middle, above the road.");
  r.field<&MarkSheet::sd>("sd_px", "How well this one is hit (standard error), when it is known better than click_px; 'test marks' gives it.").between(0.05, 20);
}

void FilmCameraSheet::describe(base::RecordType<FilmCameraSheet>& r) {
  r.about("What is known of the camera; all of it may be left out.");
  r.field<&FilmCameraSheet::focal>("focal_px", "Focal length in pixels of this film's picture.").between(200, 200000);
  r.field<&FilmCameraSheet::focal_full_frame>("focal_full_frame", unit::mm, "Focal length as for a 36 mm wide picture (phones' data sheets say so; film mode often crops).").between(8, 2000);
  r.field<&FilmCameraSheet::k1>("k1", "Distortion: distorted = ideal·(1 + k1·q²), q = radius / half diagonal.").between(-0.4, 0.4);
  r.field<&FilmCameraSheet::height>("height", unit::mm, "Height of the lens above the road.").between(50, 20000);
  r.field<&FilmCameraSheet::readout>("readout", unit::ms, "Time in which the sensor is read from top to bottom.").between(0, 50);
}

void MarksSheet::describe(base::RecordType<MarksSheet>& r) {
  r.about("Marks on one frame of a film: at least one left–right pair on the body (two are better) and both tyres of one axle.");
  r.document("marks/1");
  r.field<&MarksSheet::time>("time", unit::s, "Time of the marked frame from the start of the film.").at_least(0);
  r.field<&MarksSheet::frame>("frame", "Or its number, counted from 0; goes before the time.").at_least(0);
  r.field<&MarksSheet::track>("track", unit::mm, "Track of the marked axle, between the middles of the tyres; sets the scale.").between(600, 3000).usual_pm(10);
  r.field<&MarksSheet::wheel_radius>("wheel_radius", unit::mm, "Height of the wheel centres, when these are marked.").between(100, 800);
  r.field<&MarksSheet::click>("click_px", "How well the points were hit (standard error).").between(0.05, 20);
  r.field<&MarksSheet::marks>("marks", "The points.").required();
  r.field<&MarksSheet::camera>("camera", "What is known of the camera.");
}

video::Marks MarksSheet::for_film() const {
  video::Marks m;
  m.time = time;
  m.frame = frame;
  m.click_sd = click;
  for (const auto& s : marks) {
    video::Mark mark{s.name, s.what, s.side, {s.px[0], s.px[1]}, {}, s.sd};
    if (s.place) mark.place = video::Point3{(*s.place)[0].si(), (*s.place)[1].si(), (*s.place)[2].si()};
    m.marks.push_back(mark);
  }
  return m;
}

video::Setting MarksSheet::setting() const {
  video::Setting s;
  s.track = track;
  s.wheel_radius = wheel_radius;
  s.focal_px = camera.focal;
  if (camera.focal_full_frame) s.focal_per_width = base::Ratio(camera.focal_full_frame->si() / 0.036);
  s.k1 = camera.k1;
  s.camera_height = camera.height;
  s.readout = camera.readout;
  return s;
}

}  // namespace rollwright::ops
