#include "server/service.h"

#include <httplib.h>

#include <algorithm>
#include <map>
#include <mutex>
#include <optional>

#include "api/ask.h"
#include "api/build_info.h"
#include "api/catalogue.h"
#include "api/door.h"
#include "api/small_json.h"
#include "ops/shared/garage.h"
#include "server/assets.h"
#include "server/guard.h"
#include "server/jobs.h"
#include "server/uploads.h"

namespace rollwright::server {
namespace {

constexpr const char* kJson = "application/json";
// Nothing from elsewhere, nothing inline, no framing by others.
constexpr const char* kContentPolicy =
    "default-src 'self'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; object-src 'none'; "
    "base-uri 'none'; form-action 'self'; frame-ancestors 'none'";

void answer(httplib::Response& response, int status, const std::string& json) {
  response.status = status;
  response.set_content(json, kJson);
}

void refuse(httplib::Response& response, int status, std::string code, std::string message, std::string hint = {}) {
  answer(response, status, api::refuse({base::input_problem(std::move(code), "", std::move(message), "", std::move(hint))}).json);
}

}  // namespace

struct Service::Inside {
  explicit Inside(const ServiceOptions& o) : options(o), uploads(o.most_upload_bytes) {
    if (!options.notebook.empty()) garage.emplace(options.notebook, true);
    routes();
  }

  void routes() {
    http.set_payload_max_length(options.most_upload_bytes);
    http.set_read_timeout(30);
    http.set_write_timeout(30);
    http.set_keep_alive_timeout(10);
    http.new_task_queue = [] { return new httplib::ThreadPool(16); };
    http.set_default_headers({{"Content-Security-Policy", kContentPolicy},
                              {"X-Content-Type-Options", "nosniff"},
                              {"Referrer-Policy", "no-referrer"},
                              {"Cross-Origin-Opener-Policy", "same-origin"},
                              {"Cross-Origin-Resource-Policy", "same-origin"}});
    http.set_pre_routing_handler([this](const httplib::Request& request, httplib::Response& response) {
      return is_welcome(request, response) ? httplib::Server::HandlerResponse::Unhandled : httplib::Server::HandlerResponse::Handled;
    });
    http.set_exception_handler([](const httplib::Request&, httplib::Response& response, std::exception_ptr) {
      refuse(response, 500, "our_bug", "Something went wrong inside the program.", "Please report it with the output of 'rollwright version'.");
    });
    http.set_error_handler([](const httplib::Request&, httplib::Response& response) {
      if (response.body.empty()) refuse(response, response.status, "not_found", response.status == 413 ? "This is larger than the program takes." : "There is nothing here.");
    });
    http.Get("/api/version", [](const httplib::Request&, httplib::Response& response) {
      answer(response, 200, api::small_object({{"version", api::version()}, {"build", api::build_id()}}));
    });
    http.Get("/api/operations", [](const httplib::Request&, httplib::Response& response) { answer(response, 200, api::operations_json()); });
    http.Post("/api/files", [this](const httplib::Request& request, httplib::Response& response, const httplib::ContentReader& reader) {
      receive(request, response, reader);
    });
    http.Get(R"(/api/files/([0-9a-f]{32}))", [this](const httplib::Request& request, httplib::Response& response) { hand_out(request, response); });
    http.Get(R"(/api/jobs/([0-9a-f]{32}))", [this](const httplib::Request& request, httplib::Response& response) {
      const std::string state = jobs.look(request.matches[1]);
      state.empty() ? refuse(response, 404, "no_such_job", "There is no such job any more.") : answer(response, 200, state);
    });
    http.Delete(R"(/api/jobs/([0-9a-f]{32}))", [this](const httplib::Request& request, httplib::Response& response) {
      jobs.cancel(request.matches[1]) ? answer(response, 200, "{}") : refuse(response, 404, "no_such_job", "There is no such job any more.");
    });
    http.Post(R"(/api/jobs/([a-z]+)(?:/([a-z]+))?)", [this](const httplib::Request& request, httplib::Response& response, const httplib::ContentReader& reader) {
      const auto body = read_body(reader, response);
      const auto* operation = body ? find(request, response) : nullptr;
      if (operation == nullptr) return;
      const std::string id = jobs.start(*operation, *body, files(), lent());
      id.empty() ? refuse(response, 429, "busy", "Enough questions are being worked on.", "Wait for one to end, or cancel it.")
                 : answer(response, 202, api::small_object({{"job", id}}));
    });
    http.Post(R"(/api/([a-z]+)(?:/([a-z]+))?)", [this](const httplib::Request& request, httplib::Response& response, const httplib::ContentReader& reader) {
      const auto body = read_body(reader, response);
      const auto* operation = body ? find(request, response) : nullptr;
      if (operation == nullptr) return;
      ops::Context context = lent();
      auto reply = api::ask(*operation, *body, context, files());
      if (request.has_param("keep") && reply.exit_code == api::kAnswered) {
        if (auto kept = api::keep(*operation, *body, reply, context); !kept) reply = api::refuse(std::move(kept.error()));
      }
      answer(response, reply.status(), reply.json);
    });
    for (const auto& asset : assets()) {
      const auto serve = [&asset](const httplib::Request&, httplib::Response& response) {
        const bool never_changes = asset.path.find("/assets/") == 0;  // the build puts a hash into these names
        response.set_header("Cache-Control", never_changes ? "max-age=31536000, immutable" : "no-cache");
        response.set_content(asset.bytes.data(), asset.bytes.size(), asset.media_type);
      };
      http.Get(regex_of(asset.path), serve);
      if (asset.path == "/index.html") http.Get("/", serve);
    }
    if (assets().empty()) {
      http.Get("/", [](const httplib::Request&, httplib::Response& response) {
        response.set_content("This program was built without its page. Build it with ./dev, or ask at /api.\n", "text/plain");
      });
    }
  }

  static std::string regex_of(const std::string& path) {
    std::string out;
    for (const char c : path) out += (std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '/' || c == '-' || c == '_') ? std::string(1, c) : std::string("\\") + c;
    return out;
  }

  bool is_welcome(const httplib::Request& request, httplib::Response& response) const {
    const std::string host = request.get_header_value("Host");
    if (!is_own_host(host, port)) {
      refuse(response, 403, "wrong_host", "This address does not belong to the program.", "Open the address that the program printed.");
      return false;
    }
    if (!is_own_origin(request.get_header_value("Origin"), host) || request.get_header_value("Sec-Fetch-Site") == "cross-site") {
      refuse(response, 403, "wrong_origin", "Another page may not ask here.");
      return false;
    }
    const bool is_read = request.method == "GET" || request.method == "HEAD";
    if (!is_read && request.method != "DELETE" && !is_plain_content_type(request.get_header_value("Content-Type"))) {
      refuse(response, 415, "wrong_content_type", "A question is sent as application/json, a file as application/octet-stream.");
      return false;
    }
    return true;
  }

  // The whole question, or a refusal. What is too large is still read to its end, up to a point, because a browser shows
  // no answer that comes while it is sending.
  std::optional<std::string> read_body(const httplib::ContentReader& reader, httplib::Response& response) const {
    constexpr std::size_t kPatience = 256U << 20;
    std::string body;
    std::size_t seen = 0;
    const bool is_whole = reader([&](const char* bytes, std::size_t size) {
      seen += size;
      if (seen <= options.most_body_bytes) body.append(bytes, size);
      return seen <= kPatience;
    });
    if (seen > options.most_body_bytes) {
      refuse(response, 413, "too_large", "This question is larger than the program takes.", "Send large files to /api/files first.");
      return std::nullopt;
    }
    if (!is_whole) {
      refuse(response, 400, "cut_off", "The question did not arrive whole.", "Send it again.");
      return std::nullopt;
    }
    return body;
  }

  const ops::Operation* find(const httplib::Request& request, httplib::Response& response) const {
    const std::string first = request.matches[1], second = request.matches[2];
    const auto* operation = second.empty() ? ops::find_operation("", first) : ops::find_operation(first, second);
    if (operation == nullptr) refuse(response, 404, "no_such_operation", "There is no such question.", "GET /api/operations lists all.");
    return operation;
  }

  api::FileFinder files() {
    return [this](const std::string& key, const std::string& reference) -> base::Outcome<base::InputFile> {
      if (key == "file" && reference.size() == 64) return kept_log(reference);
      if (key == "file") return uploads.find(reference);
      return base::fail(base::input_problem("not_a_file", "", "The server opens no paths.", "a file sent to /api/files"));
    };
  }

  // A log of the notebook by its hash, unpacked once and then like any upload.
  base::Outcome<base::InputFile> kept_log(const std::string& hash) {
    const std::lock_guard lock(unpacking);
    if (const auto known = unpacked.find(hash); known != unpacked.end()) return uploads.find(known->second);
    if (!garage) return base::fail(base::input_problem("no_such_file", "", "No notebook is in use here."));
    const auto notebook = garage->open(api::now_text());
    if (!notebook) return base::fail(notebook.error());
    const auto lines = (*notebook)->logs();
    if (!lines) return base::fail(lines.error());
    const auto line = std::find_if(lines->begin(), lines->end(), [&](const auto& l) { return l.hash == hash; });
    Uploads::Receiver receiver(uploads, line == lines->end() ? hash : line->name);
    const auto read = (*notebook)->read_log(hash, [&receiver](std::string_view bytes) { return receiver.write(bytes.data(), bytes.size()); });
    if (!read) return base::fail(read.error());
    const std::string id = receiver.finish();
    unpacked.emplace(hash, id);
    return uploads.find(id);
  }

  // What an operation is lent: the notebook, the clock, and files that the page fetches from /api/files afterwards.
  ops::Context lent() {
    const ops::Outbox outbox = [this](const std::string& name, const auto& fill) -> base::Outcome<std::string> {
      Uploads::Receiver receiver(uploads, name);
      const auto filled = fill([&receiver](std::string_view bytes) { return receiver.write(bytes.data(), bytes.size()); });
      if (!filled) return base::fail(filled.error());
      const std::string id = receiver.finish();
      if (!id.empty()) return id;
      return base::fail(base::Problem{base::ProblemKind::environment, "disk_full", "", "There is no room to write the file.", "", "Make room on the disk, or restart the program to clear old files."});
    };
    return {{}, garage ? &*garage : nullptr, outbox, api::now_text(), api::build_id()};
  }

  void hand_out(const httplib::Request& request, httplib::Response& response) {
    const auto file = uploads.find(request.matches[1]);
    if (!file) return answer(response, 404, api::refuse(file.error()).json);
    std::string name = (*file)->name();
    for (char& c : name) c = std::isalnum(static_cast<unsigned char>(c)) != 0 || c == '.' || c == '-' || c == '_' ? c : '_';
    response.set_header("Content-Disposition", "attachment; filename=\"" + name + "\"");
    std::shared_ptr<base::ByteStream> stream = (*file)->open();
    response.set_content_provider(static_cast<std::size_t>((*file)->size().value_or(0)), "application/octet-stream",
                                  [stream](std::size_t, std::size_t length, httplib::DataSink& sink) {
                                    char block[1 << 16];
                                    const std::size_t got = stream->read(block, std::min(length, sizeof block));
                                    return got > 0 && sink.write(block, got);
                                  });
  }

  void receive(const httplib::Request& request, httplib::Response& response, const httplib::ContentReader& reader) {
    const std::string name = request.has_param("name") ? request.get_param_value("name") : "upload";
    Uploads::Receiver receiver(uploads, name);
    const bool is_whole = reader([&receiver](const char* bytes, std::size_t size) { return receiver.write(bytes, size); });
    const std::string id = is_whole ? receiver.finish() : "";
    if (id.empty()) return refuse(response, 507, "not_kept", "The file could not be kept: it was cut off, or there is no room for it.", "Send it again, or restart the program to clear old files.");
    answer(response, 201, api::small_object({{"file", id}, {"name", name}, {"bytes", static_cast<double>(receiver.size())}}));
  }

  ServiceOptions options;
  int port = 0;
  Uploads uploads;
  std::optional<ops::Garage> garage;
  std::mutex unpacking;
  std::map<std::string, std::string> unpacked;  // hash to the id of the unpacked file
  Jobs jobs;
  httplib::Server http;
};

Service::Service(const ServiceOptions& options) : inside_(std::make_unique<Inside>(options)) {}
Service::~Service() = default;

int Service::bind() {
  auto& in = *inside_;
  if (in.options.port == 0) {
    in.port = in.http.bind_to_any_port("127.0.0.1");
    if (in.port < 0) in.port = 0;
  } else {
    in.port = in.http.bind_to_port("127.0.0.1", in.options.port) ? in.options.port : 0;
  }
  return in.port;
}

void Service::run() { inside_->http.listen_after_bind(); }
void Service::stop() { inside_->http.stop(); }

}  // namespace rollwright::server
