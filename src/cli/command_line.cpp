#include "cli/command_line.h"

#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstdio>
#include <map>

#include <CLI/CLI.hpp>

#include "api/ask.h"
#include "api/build_info.h"
#include "api/catalogue.h"
#include "api/door.h"
#include "api/file_source.h"
#include "api/request_builder.h"
#include "api/words.h"
#include "cli/help.h"
#include "cli/man_page.h"
#include "cli/pdf.h"
#include "ops/shared/garage.h"
#include "report/html.h"
#include "report/text.h"

namespace rollwright::cli {
namespace {

void say(const std::string& text) { std::fputs(text.c_str(), stderr); }

int complain(const base::Problems& problems, int exit_code) {
  say(std::string("rollwright: ") + (exit_code == api::kNoAnswer ? "there is no answer to this" : "this does not work yet") + "\n" +
      report::problems_text(problems, {}));
  return exit_code;
}

// Answers go to stdout; a reader that closes the pipe early (head, less) is not an error.
int print(const std::string& text, int exit_code) {
  if (std::fwrite(text.data(), 1, text.size(), stdout) != text.size() || std::fflush(stdout) != 0) {
    return errno == EPIPE ? exit_code : static_cast<int>(api::kEnvironment);
  }
  return exit_code;
}

struct Arguments {
  bool as_json = false;
  bool wants_help = false;
  report::TextOptions text;
  std::string html_file;
  std::string pdf_file;
  std::string out_folder;
  std::string notebook;
  bool keeps = false;
};

bool looks_like_json(const std::string& text) {
  const auto first = text.find_first_not_of(" \t\r\n");
  return first != std::string::npos && text[first] == '{';
}

// Reads the words after "group verb" into the builder. The options are those of the request's description.
class ArgumentReader {
 public:
  ArgumentReader(const ops::Operation& operation, api::RequestBuilder& builder) : operation_(operation), builder_(builder) {}

  base::Outcome<Arguments> read(std::vector<std::string> words) {
    CLI::App app;
    app.set_help_flag();
    std::string units = "metric", request;
    std::vector<std::string> settings, positions;
    std::map<std::string, std::vector<std::string>> values;
    std::map<std::string, std::vector<std::string>> documents;
    std::map<std::string, bool> flags;
    app.add_flag("--help,-h", arguments_.wants_help);
    app.add_flag("--json", arguments_.as_json);
    app.add_option("--units", units)->check(CLI::IsMember({"metric", "imperial"}));
    app.add_option("--request", request);
    app.add_option("--html", arguments_.html_file);
    app.add_option("--pdf", arguments_.pdf_file);
    app.add_option("--out", arguments_.out_folder);
    app.add_option("--notebook", arguments_.notebook);
    app.add_flag("--keep", arguments_.keeps);
    app.add_option("--set", settings)->expected(1)->take_all()->allow_extra_args(false);
    app.add_option("documents", positions);
    for (const auto& field : operation_.request->fields) {
      const auto& single = without_optional(field.type());
      // A document may also be named by its field: --marks marks.json.
      if (single.kind == base::Kind::record && !single.document.empty()) app.add_option(flag(field), documents[field.key])->expected(1)->allow_extra_args(false);
      if (!has_flag(field)) continue;
      if (single.kind == base::Kind::boolean) {
        app.add_flag(flag(field), flags[field.key]);
      } else {
        auto* option = app.add_option(flag(field), values[field.key]);
        is_list(single) ? option->expected(1, 1 << 20) : option->expected(1)->allow_extra_args(false);
      }
    }
    std::reverse(words.begin(), words.end());  // the parser takes them from the back
    try {
      app.parse(words);
    } catch (const CLI::ParseError& error) {
      return base::fail(misread(error));
    }
    if (units == "imperial") arguments_.text.units = report::UnitSystem::imperial;
    if (!request.empty()) start_from(request);
    for (const auto& setting : settings) set(setting);
    for (const auto& path : positions) position(path);
    for (const auto& field : operation_.request->fields) {
      for (const auto& path : documents[field.key]) position(path);
    }
    for (const auto& field : operation_.request->fields) {
      if (flags.count(field.key) != 0 && flags[field.key]) builder_.set(field.key, "true");
      for (const auto& value : values[field.key]) takes_files(field) ? files(field.key, value) : builder_.set(field.key, value);
    }
    if (!problems_.empty()) return base::fail(problems_);
    return arguments_;
  }

 private:
  static const base::Type& without_optional(const base::Type& type) {
    return type.kind == base::Kind::optional ? type.element() : type;
  }
  static bool is_list(const base::Type& type) { return type.kind == base::Kind::list || type.kind == base::Kind::tuple; }
  static bool takes_files(const base::Field& field) {
    const auto& single = without_optional(field.type());
    return (is_list(single) ? single.element() : single).kind == base::Kind::file;
  }

  base::Problem misread(const CLI::ParseError& error) {
    std::vector<std::string> known{"--json", "--units", "--request", "--set", "--html", "--pdf", "--out", "--notebook", "--keep", "--help"};
    for (const auto& field : operation_.request->fields) {
      if (has_flag(field)) known.push_back(flag(field));
    }
    const std::string message = error.what();
    const auto dashes = message.find("--");
    const std::string name = dashes == std::string::npos ? "" : message.substr(dashes, message.find_first_of(" :,", dashes) - dashes);
    return base::input_problem("option", name, message.empty() || message.back() == '.' ? message : message + ".",
                               "see 'rollwright help " + operation_.id() + "'",
                               name.empty() ? "" : api::did_you_mean(name, known));
  }

  void start_from(const std::string& path) {
    const auto text = api::text_of_file(path);
    if (!text) return append(text.error());
    builder_.start_from(path, *text);
  }

  void set(const std::string& pair) {
    const auto equals = pair.find('=');
    if (equals == std::string::npos) {
      problems_.push_back(base::input_problem("not_a_pair", "--set", "\"" + pair + "\" has no equals sign.", "key=value"));
    } else {
      builder_.set(pair.substr(0, equals), pair.substr(equals + 1));
    }
  }

  void files(const std::string& key, const std::string& path) {
    const auto found = api::files_at(path);
    if (!found) return append(found.error());
    for (const auto& file : *found) builder_.set(key, file);
  }

  void position(const std::string& path) {
    const auto found = api::files_at(path);
    if (!found) return append(found.error());
    for (const auto& file : *found) {
      // A document is small and starts with a bracket; a log may be huge, so only its start is looked at.
      const auto source = api::file_source(file);
      if (!source) {
        append(source.error());
      } else if (builder_.takes_documents() && (!builder_.takes_files() || starts_like_json(**source))) {
        const auto text = api::text_of_file(file);
        if (text) {
          builder_.document(file, *text);
        } else {
          append(text.error());
        }
      } else {
        builder_.file(file);
      }
    }
  }

  static bool starts_like_json(const base::ByteSource& source) {
    try {
      char head[256];
      const std::size_t count = source.open()->read(head, sizeof head);
      return looks_like_json(std::string(head, count));
    } catch (const std::exception&) {
      return false;  // the reader of the file reports it
    }
  }

  void append(const base::Problems& problems) { problems_.insert(problems_.end(), problems.begin(), problems.end()); }

  const ops::Operation& operation_;
  api::RequestBuilder& builder_;
  Arguments arguments_;
  base::Problems problems_;
};

base::Outcome<base::InputFile> open_path(const std::string& key, const std::string& reference) {
  if (key == "path") return api::file_source(reference);
  return base::fail(base::input_problem("not_a_file", "", "Uploads exist only on the server.", "a path"));
}

void show_progress(double fraction, std::string_view doing) {
  constexpr int kCells = 24;
  const int done = std::clamp(static_cast<int>(fraction * kCells), 0, kCells);
  std::string line = "\r[" + std::string(static_cast<std::size_t>(done), '#') + std::string(static_cast<std::size_t>(kCells - done), '.') + "] ";
  line += std::string(doing.substr(0, 50)) + std::string(doing.size() < 50 ? 50 - doing.size() : 0, ' ');
  if (fraction >= 1.0) line = "\r" + std::string(line.size(), ' ') + "\r";
  say(line);
}

// The report and the files that an answer brings, where the person wants them.
base::Problems write_files(const ops::Operation& operation, const ops::ErasedAnswer& answer, const Arguments& arguments) {
  base::Problems problems;
  const auto write = [&](const std::string& path, const std::string& text) {
    if (const auto written = api::write_file(path, text); !written) problems.insert(problems.end(), written.error().begin(), written.error().end());
  };
  const auto report = [&] { return report::answer_html(operation, answer, {arguments.text.units, api::version() + " (" + api::build_id() + ")"}); };
  if (!arguments.html_file.empty()) write(arguments.html_file, report());
  if (!arguments.pdf_file.empty()) {
    if (const auto printed = print_pdf(report(), arguments.pdf_file); !printed) problems.insert(problems.end(), printed.error().begin(), printed.error().end());
  }
  if (!arguments.out_folder.empty()) {
    for (const auto& file : api::files_of(operation, answer)) write(arguments.out_folder + "/" + file.name, file.text);
    write(arguments.out_folder + "/report.html", report());
  }
  return problems;
}

int ask(const ops::Operation& operation, const std::vector<std::string>& words) {
  api::RequestBuilder builder(operation);
  const auto arguments = ArgumentReader(operation, builder).read(words);
  const bool as_json = std::find(words.begin(), words.end(), "--json") != words.end();
  if (arguments && arguments->wants_help) return print(help_of(operation), api::kAnswered);
  base::Problems problems = arguments ? base::Problems{} : arguments.error();
  problems.insert(problems.end(), builder.problems().begin(), builder.problems().end());
  api::Reply reply;
  if (!problems.empty()) {
    reply = api::refuse(std::move(problems));
  } else {
    const bool is_watched = operation.is_long && isatty(STDERR_FILENO) == 1;
    ops::Garage garage(arguments->notebook.empty() ? api::usual_notebook(false) : arguments->notebook, false);
    ops::Context context{is_watched ? base::Progress(&show_progress) : base::Progress(), &garage,
                         api::folder_outbox(arguments->out_folder.empty() ? "." : arguments->out_folder), api::now_text(), api::build_id()};
    const std::string request = builder.json();
    reply = api::ask(operation, request, context, open_path);
    if (is_watched) show_progress(1.0, "");
    if (arguments->keeps && reply.exit_code == api::kAnswered) {
      if (auto kept = api::keep(operation, request, reply, context); !kept) reply = api::refuse(std::move(kept.error()));
    }
  }
  if (reply.exit_code == api::kAnswered) {
    if (const auto trouble = write_files(operation, reply.answer, *arguments); !trouble.empty()) return complain(trouble, api::kEnvironment);
  }
  if (as_json) return print(reply.json + "\n", reply.exit_code);
  if (reply.exit_code != api::kAnswered) return complain(reply.problems, reply.exit_code);
  return print(report::answer_text(operation, reply.answer, arguments->text), api::kAnswered);
}

int no_such_command(const std::vector<std::string>& arguments, const std::vector<ExtraCommand>& extra) {
  std::vector<std::string> known{"version", "help"};
  for (const auto& op : ops::all_operations()) known.push_back(op.id());
  for (const auto& command : extra) known.push_back(command.name);
  std::string given = arguments[0];
  if (arguments.size() > 1) given += " " + arguments[1];
  std::string hint = api::did_you_mean(given, known);
  if (hint.empty()) hint = "'rollwright help' lists all questions.";
  return complain({base::input_problem("no_such_command", given, "This is not a question that the program knows.", "", hint)}, api::kYourInput);
}

int help(std::vector<std::string> words, const std::vector<ExtraCommand>& extra) {
  if (words.size() > 2) words.resize(2);
  for (const auto& op : ops::all_operations()) {
    if (!words.empty() && op.id() == (words.size() == 2 ? words[0] + " " + words[1] : words[0])) return print(help_of(op), 0);
  }
  if (!words.empty()) {
    std::string group;
    for (const auto& op : ops::all_operations()) {
      if (op.group == words[0]) group += "  " + op.id() + ": " + op.question + "\n";
    }
    if (!group.empty()) return print(group, 0);
    return no_such_command(words, extra);
  }
  return print(overview(extra), 0);
}

}  // namespace

int run(const std::vector<std::string>& arguments, const std::vector<ExtraCommand>& extra) {
  if (arguments.empty()) return print(overview(extra), api::kAnswered);
  const std::string& first = arguments[0];
  const std::vector<std::string> rest(arguments.begin() + 1, arguments.end());
  if (first == "help" || first == "--help" || first == "-h") return help(rest, extra);
  if (first == "version" || first == "--version") return print("rollwright " + api::version() + " (" + api::build_id() + ")\n", 0);
  // For the project's own tools: the generated files of the repository and of the packages.
  if (first == "generate" && rest.size() == 1) {
    if (rest[0] == "typescript") return print(api::typescript(), 0);
    if (rest[0] == "reference") return print(api::reference_page(), 0);
    if (rest[0] == "operations") return print(api::operations_json() + "\n", 0);
    if (rest[0] == "man") return print(man_page(extra, api::version()), 0);
    if (rest[0] == "completion") return print(bash_completion(extra), 0);
    if (rest[0] == "schemas") {
      std::string all;
      for (const auto& file : api::schema_files()) all += "==> " + file.name + "\n" + file.text;
      return print(all, 0);
    }
  }
  for (const auto& command : extra) {
    if (command.name == first) return command.run(rest);
  }
  if (const auto* operation = ops::find_operation("", first)) return ask(*operation, rest);
  if (!rest.empty()) {
    if (const auto* operation = ops::find_operation(first, rest[0])) return ask(*operation, {rest.begin() + 1, rest.end()});
  } else {
    return help({first}, extra);
  }
  return no_such_command(arguments, extra);
}

}  // namespace rollwright::cli
