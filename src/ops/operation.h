// Operation: one question a user can ask.
//
// An operation is a plain function from a described Request to a described Result. The same function answers C++, the
// command line, the server and the page; everything they need to know is in the descriptions.
//
//   base::Outcome<base::Answer<RateResult>> rate(const RateRequest& request, Context& context);
//   Operation bar_rate_operation() { return operation<&rate>("bar", "rate", "How stiff is this bar at every setting?"); }
//
// They register themselves by their file name: src/ops/bar_rate.cpp must define bar_rate_operation(); the build lists
// what it finds (docs/adding_an_operation.md).
#pragma once

#include <functional>
#include <memory>
#include <string>
#include <vector>

#include "base/answer.h"
#include "base/describe.h"
#include "ops/context.h"

namespace rollwright::ops {

// A result whose type is only known by its description.
struct ErasedAnswer : base::Footing {
  std::shared_ptr<const void> result;
};

struct Operation {
  std::string group;     // "bar"; empty for those without a group
  std::string verb;      // "rate"
  std::string question;  // in the person's words; one line
  std::string help;      // a paragraph: what it needs, what it answers, where it stops holding
  std::string example;   // a command that runs in the examples folder, without the program's name
  const base::Type* request = nullptr;
  const base::Type* result = nullptr;
  bool is_long = false;  // worth a progress bar and a job

  std::function<base::Outcome<ErasedAnswer>(const void* request, Context& context)> run;

  // "bar rate", as typed and as printed.
  [[nodiscard]] std::string id() const { return group.empty() ? verb : group + " " + verb; }
  // "bar/rate", as in addresses.
  [[nodiscard]] std::string path() const { return group.empty() ? verb : group + "/" + verb; }

  Operation& helped(std::string text) { help = std::move(text); return *this; }
  Operation& shown_by(std::string command) { example = std::move(command); return *this; }
  Operation& takes_long() { is_long = true; return *this; }
};

namespace detail {

template <class F> struct signature;
template <class Req, class Res>
struct signature<base::Outcome<base::Answer<Res>> (*)(const Req&, Context&)> {
  using request = Req;
  using result = Res;
};

}  // namespace detail

template <auto Function>
Operation operation(std::string group, std::string verb, std::string question) {
  using Request = typename detail::signature<decltype(Function)>::request;
  using Result = typename detail::signature<decltype(Function)>::result;
  Operation op;
  op.group = std::move(group);
  op.verb = std::move(verb);
  op.question = std::move(question);
  op.request = &base::type_of<Request>();
  op.result = &base::type_of<Result>();
  op.run = [](const void* request, Context& context) -> base::Outcome<ErasedAnswer> {
    auto answer = Function(*static_cast<const Request*>(request), context);
    if (!answer) return base::fail(std::move(answer.error()));
    ErasedAnswer erased;
    static_cast<base::Footing&>(erased) = std::move(static_cast<base::Footing&>(*answer));
    erased.result = std::make_shared<const Result>(std::move(answer->result));
    return erased;
  };
  return op;
}

// All operations, in the order in which help lists them.
const std::vector<Operation>& all_operations();

// The operation with this group and verb; null when there is none.
const Operation* find_operation(const std::string& group, const std::string& verb);

}  // namespace rollwright::ops
