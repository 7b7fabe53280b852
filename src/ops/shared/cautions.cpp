#include "ops/shared/cautions.h"

#include <map>

namespace rollwright::ops {

const CautionText& caution_text(CautionTopic topic) {
  static const std::map<CautionTopic, CautionText> all{
      {CautionTopic::lifting,
       {"Lifting",
        "Hard, level ground such as concrete. Chock the wheels that stay down and set the park brake before lifting. Lift and support only at the maker's points. Do not exceed what jack "
        "and stands are marked for. Watch that the jack's head sits square and that the jack can roll as the car rises.",
        {"ACCC jacks"}}},
      {CautionTopic::jack_only,
       {"Never under a jack alone",
        "No part of the body goes under the car until it rests on support stands. Once the car is up, secure it at once. Push the car by hand on its stands before reaching under it.",
        {"ACCC jacks", "29 CFR 1910.244"}}},
      {CautionTopic::airbag_nobody_inside, {"Nobody inside", "No person and no pet in the car while it is lifted or on stands.", {"ACCC jacks"}}},
      {CautionTopic::bar_loaded,
       {"A bar under load swings",
        "Undo and fit links with both wheels of the axle at the same height: with one wheel hung the bar carries load and swings when a link comes free. Keep hands and face out of its way.",
        {}}},
      {CautionTopic::torque,
       {"Torque",
        "The maker's figure wins over every number here. Use a torque wrench; threads clean, and dry or oiled as the figure says: oil on a thread meant dry can overload the bolt by a third. "
        "New locknuts where they are single-use. Rubber bushes are tightened with the car on its wheels.",
        {"VDI 2230"}}},
      {CautionTopic::recheck,
       {"Re-check",
        "Check every fastener that was touched, wheels included, after the first drive and again after 50 km (30 miles); look at the witness marks, links, brackets and bushings each time.",
        {"Continental retorque"}}},
      {CautionTopic::first_drive,
       {"First drive",
        "Turn the steering lock to lock and push the body down at each corner: no contact, no binding. Then walking pace on private ground with permission, listen, stop and look again. No "
        "testing on public roads; only the driver in the car during a test, belt on, loose things out, a spotter well away.",
        {}}},
      {CautionTopic::law,
       {"Rules and insurance",
        "Rules for suspension changes differ by state and country and change; look up yours, and tell the insurer before driving on the road. Where a certificate is needed, get it first.",
        {"VSI 8"}}},
      {CautionTopic::inspection,
       {"What no calculation replaces",
        "Look at welds, brackets, bushings and threads yourself. A crack, a bent bracket or play in a joint is a reason to stop; have safety-relevant work checked by a licensed workshop.",
        {}}},
      {CautionTopic::locked_dampers,
       {"Lock the suspension",
        "Replace springs' movement by solid bars or blocks in place of the dampers before lifting an axle: otherwise the body moves on its springs and the height comes out wrong. Keep the "
        "wheels free to roll, chock only the scales' sides, and never stand under or beside the raised end.",
        {}}},
  };
  return all.at(topic);
}

}  // namespace rollwright::ops
