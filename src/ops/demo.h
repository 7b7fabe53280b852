// demo: the whole job on an invented car, from sheets to verdict.
#pragma once

#include <string>
#include <vector>

#include "ops/operation.h"
#include "ops/verdict_make.h"

namespace rollwright::ops {

struct DemoRequest {
  static constexpr const char* kName = "DemoRequest";
  int seed = 7;
  bool logs = true;
  static void describe(base::RecordType<DemoRequest>& r);
};

// A file that belongs to an answer; the command line writes it with --out.
struct NamedFile {
  static constexpr const char* kName = "NamedFile";
  std::string name;
  std::string text;
  static void describe(base::RecordType<NamedFile>& r);
};

struct DemoResult {
  static constexpr const char* kName = "DemoResult";
  std::string meaning;
  CarSheet car;
  std::vector<BarSheet> bars;
  // What the verdict was asked with, so that a page can ask it again with one thing changed.
  Setup before_setup, after_setup;
  PhonePlace phone;
  CostSheet cost;
  std::vector<Alternative> alternatives;
  base::Ratio wanted_change = 0.0;
  VerdictResult verdict;
  std::vector<NamedFile> files;
  static void describe(base::RecordType<DemoResult>& r);
};

base::Outcome<base::Answer<DemoResult>> demo(const DemoRequest& request, Context& context);
Operation demo_operation();

}  // namespace rollwright::ops
