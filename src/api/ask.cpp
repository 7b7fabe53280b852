#include "api/ask.h"

#include <algorithm>
#include <exception>

#include "base/assert.h"
#include "wire/read.h"
#include "wire/write.h"

namespace rollwright::api {
namespace {

int exit_code_of(const base::Problems& problems) {
  const auto any = [&](base::ProblemKind kind) {
    return std::any_of(problems.begin(), problems.end(), [kind](const auto& p) { return p.kind == kind; });
  };
  if (any(base::ProblemKind::environment)) return kEnvironment;
  return any(base::ProblemKind::input) ? kYourInput : kNoAnswer;
}

wire::FileResolver resolver(const FileFinder& files) {
  if (!files) return {};
  return [&files](const wire::Json& reference) -> base::Outcome<base::InputFile> {
    if (reference.is_object()) {
      for (const char* key : {"path", "file"}) {
        if (reference.contains(key) && reference[key].is_string()) return files(key, reference[key].get<std::string>());
      }
    }
    return base::fail(base::input_problem("not_a_file", "", "This does not say which file is meant.",
                                          "{\"file\": …, \"name\": …} or {\"name\": …, \"text\": …}"));
  };
}

Reply bug(const std::string& what) {
  base::Problem problem{base::ProblemKind::environment, "our_bug", "", "Something went wrong inside the program: " + what, "",
                        "This is not your fault. Please keep the input and report it with the output of 'rollwright version'."};
  Reply reply = refuse({problem});
  reply.exit_code = kOurBug;
  return reply;
}

}  // namespace

int Reply::status() const {
  switch (exit_code) {
    case kAnswered: return 200;
    case kYourInput: return 422;
    case kNoAnswer: return 409;
    case kEnvironment: return 503;
    default: return 500;
  }
}

Reply refuse(base::Problems problems) {
  Reply reply;
  reply.exit_code = exit_code_of(problems);
  reply.json = wire::to_text(wire::write_problems(problems), true);
  reply.problems = std::move(problems);
  return reply;
}

Reply ask(const ops::Operation& operation, std::string_view request_json, ops::Context& context,
          const FileFinder& files) {
  try {
    auto json = wire::parse(request_json, "request");
    if (!json) return refuse(std::move(json.error()));
    const auto request = operation.request->construct();
    auto problems = wire::read(*operation.request, nullptr, request.get(), *json, "", {resolver(files)});
    if (!problems.empty()) return refuse(std::move(problems));
    auto answer = operation.run(request.get(), context);
    if (!answer) return refuse(std::move(answer.error()));
    Reply reply;
    const auto result = wire::write(*operation.result, nullptr, answer->result.get());
    reply.json = wire::to_text(wire::write_answer(result, *answer), true);
    reply.answer = std::move(*answer);
    return reply;
  } catch (const base::InternalError& error) {
    return bug(error.what());
  } catch (const std::bad_alloc&) {
    return refuse({{base::ProblemKind::environment, "no_memory", "", "There is not enough memory for this.", "",
                    "Try with a smaller file or fewer draws."}});
  } catch (const std::exception& error) {
    return bug(error.what());
  }
}

Reply ask(const std::string& id, std::string_view request_json) {
  for (const auto& operation : ops::all_operations()) {
    if (operation.id() == id) {
      ops::Context context;
      return ask(operation, request_json, context);
    }
  }
  return refuse({base::input_problem("no_such_operation", "", "There is no operation \"" + id + "\".", "see 'rollwright help'")});
}

}  // namespace rollwright::api
