// RequestBuilder: puts a request together from words, as they stand on a command line.
//
// Documents are told apart by their kind and go to the field that wants that kind; other files go to the field that
// takes files; "wheelbase_mm=2550" sets one value anywhere in the request, "front.track_mm=1480" inside a record.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "base/problem.h"
#include "ops/operation.h"

namespace rollwright::api {

class RequestBuilder {
 public:
  explicit RequestBuilder(const ops::Operation& operation);
  ~RequestBuilder();
  RequestBuilder(RequestBuilder&&) noexcept;

  // True when this operation reads documents or takes files given by position.
  [[nodiscard]] bool takes_documents() const;
  [[nodiscard]] bool takes_files() const;

  // A whole request as JSON text, to start from.
  void start_from(const std::string& name, const std::string& text);
  // A document by position. `path` is what the user typed.
  void document(const std::string& path, const std::string& text);
  // Any other file by position.
  void file(const std::string& path);
  // A value: "speed_km_per_h" and "50", "aim" and "less_lean", "before" and a path. Lists grow by one each time.
  // "22+-0.1 maker" and "22±0.1" are estimates.
  void set(const std::string& key, const std::string& text);

  [[nodiscard]] const base::Problems& problems() const;
  [[nodiscard]] std::string json() const;

 private:
  struct State;
  std::unique_ptr<State> state_;
};

}  // namespace rollwright::api
