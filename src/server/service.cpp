#include "server/service.h"

#include <httplib.h>
#include <sys/socket.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <map>
#include <mutex>
#include <optional>
#include <thread>

#include "api/ask.h"
#include "api/build_info.h"
#include "api/catalogue.h"
#include "api/door.h"
#include "api/small_json.h"
#include "ops/shared/garage.h"
#include "server/assets.h"
#include "server/certificate.h"
#include "server/guard.h"
#include "server/jobs.h"
#include "server/pair_page.h"
#include "server/pairing.h"
#include "server/qr.h"
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

// The library lets five callers wait at the door and turns the sixth away; a page with a hundred questions is welcome.
template <class Server>
class Roomy final : public Server {
 public:
  using Server::Server;
  void make_room() { ::listen(this->svr_sock_, 256); }
};

void refuse(httplib::Response& response, int status, std::string code, std::string message, std::string hint = {}) {
  answer(response, status, api::refuse({base::input_problem(std::move(code), "", std::move(message), "", std::move(hint))}).json);
}

}  // namespace

struct Service::Inside {
  explicit Inside(const ServiceOptions& o) : options(o), uploads(o.most_upload_bytes), pairing([this] { return now(); }) {
    if (!options.notebook.empty()) garage.emplace(options.notebook, true);
    last_seen = now();
    routes(local, false);
  }

  [[nodiscard]] double now() const {
    return options.clock ? options.clock() : std::chrono::duration<double>(std::chrono::steady_clock::now().time_since_epoch()).count();
  }

  void routes(httplib::Server& http, bool is_lan) {
    http.set_payload_max_length(options.most_upload_bytes);
    http.set_read_timeout(30);
    http.set_write_timeout(30);
    http.set_keep_alive_timeout(10);
    // A browser keeps up to six connections open, and each holds a thread for as long as it is kept alive.
    http.new_task_queue = [] { return new httplib::ThreadPool(32); };
    http.set_default_headers({{"Content-Security-Policy", kContentPolicy},
                              {"X-Content-Type-Options", "nosniff"},
                              // A browser told to send no referrer at all sends a form (of the page that pairs) without its origin.
                              {"Referrer-Policy", is_lan ? "same-origin" : "no-referrer"},
                              {"Cross-Origin-Opener-Policy", "same-origin"},
                              {"Cross-Origin-Resource-Policy", "same-origin"}});
    http.set_pre_routing_handler([this, is_lan](const httplib::Request& request, httplib::Response& response) {
      last_seen = now();
      const bool is_let_in = is_lan ? is_welcome_from_network(request, response) : is_welcome(request, response);
      return is_let_in ? httplib::Server::HandlerResponse::Unhandled : httplib::Server::HandlerResponse::Handled;
    });
    http.set_exception_handler([](const httplib::Request&, httplib::Response& response, std::exception_ptr) {
      refuse(response, 500, "our_bug", "Something went wrong inside the program.", "Please report it with the output of 'rollwright version'.");
    });
    http.set_error_handler([](const httplib::Request&, httplib::Response& response) {
      if (response.body.empty()) refuse(response, response.status, "not_found", response.status == 413 ? "This is larger than the program takes." : "There is nothing here.");
    });
    if (is_lan) {
      pairing_routes(http);
    } else {
      http.Get("/api/lan", [this](const httplib::Request&, httplib::Response& response) { tell_way_in(response); });
    }
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

  // How a device is paired: a page without scripts, and one answer.
  void pairing_routes(httplib::Server& http) {
    http.Get("/pair", [](const httplib::Request& request, httplib::Response& response) {
      response.set_content(pair_page(request.get_param_value("code"), ""), "text/html; charset=utf-8");
    });
    http.Get("/pair.css", [](const httplib::Request&, httplib::Response& response) { response.set_content(pair_style(), "text/css; charset=utf-8"); });
    http.Post("/pair", [this](const httplib::Request&, httplib::Response& response, const httplib::ContentReader& reader) {
      std::string body;
      const bool is_whole = reader([&body](const char* bytes, std::size_t size) {
        body.append(bytes, size);
        return body.size() <= 200;
      });
      const auto reply = pairing.try_code(is_whole ? code_in(body) : "");
      if (reply.answer == Pairing::Answer::welcome) {
        response.set_header("Set-Cookie", cookie_of(reply.session));
        return response.set_redirect("/", 303);
      }
      const bool is_closed = reply.answer == Pairing::Answer::closed;
      response.status = is_closed ? 429 : 403;
      if (is_closed) response.set_header("Retry-After", std::to_string(static_cast<int>(reply.wait_seconds) + 1));
      response.set_content(pair_page("", is_closed ? "Too many wrong codes. Wait " + std::to_string(static_cast<int>(reply.wait_seconds) + 1) + " seconds, then use the new code on the computer's screen."
                                                   : "That is not the code that the computer shows. A code works once."),
                           "text/html; charset=utf-8");
    });
  }

  void tell_way_in(httplib::Response& response) const {
    if (!lan) return answer(response, 200, R"({"is_open": false})");
    const auto way = way_in();
    std::string text = api::small_object({{"address", way.address}, {"code", way.code}, {"fingerprint", way.fingerprint}, {"devices", static_cast<double>(way.devices)},
                                          {"qr_path", qr_path(qr_modules(way.address))}, {"qr_size", static_cast<double>(qr_modules(way.address).size())}});
    text.pop_back();
    answer(response, 200, text + R"(,"is_open":true})");
  }

  [[nodiscard]] Service::Way way_in() const {
    const std::string code = pairing.code();
    const std::string name = options.lan_names.empty() ? "" : options.lan_names.front();
    const std::string address = "https://" + name + ":" + std::to_string(lan_port) + "/pair?code=" + code;
    return {address, code, fingerprint, qr_for_terminal(qr_modules(address)), pairing.devices()};
  }

  // From the network: our own names, our own page, and a session; without one, the page that pairs and nothing else.
  bool is_welcome_from_network(const httplib::Request& request, httplib::Response& response) const {
    const std::string host = request.get_header_value("Host");
    if (!is_own_host(host, lan_port, options.lan_names)) {
      refuse(response, 403, "wrong_host", "This address does not belong to the program.", "Open the address that the program printed.");
      return false;
    }
    if (!is_own_origin(request.get_header_value("Origin"), host, true) || request.get_header_value("Sec-Fetch-Site") == "cross-site") {
      // A link from elsewhere may open the page that pairs, which does nothing by itself.
      const bool opens_page = request.method == "GET" && request.path == "/pair" && request.get_header_value("Sec-Fetch-Mode") == "navigate" && request.get_header_value("Origin").empty();
      if (!opens_page) {
        refuse(response, 403, "wrong_origin", "Another page may not ask here.");
        return false;
      }
    }
    if (request.path == "/pair" || (request.path == "/pair.css" && request.method == "GET")) return true;
    if (!pairing.knows(session_of(request.get_header_value("Cookie")))) {
      if (request.method == "GET" && request.path == "/") {
        response.set_redirect("/pair", 303);
      } else {
        refuse(response, 401, "not_paired", "This device is not paired with the program.", "Open /pair and enter the code that the computer shows.");
      }
      return false;
    }
    return is_plain(request, response);
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
    return is_plain(request, response);
  }

  static bool is_plain(const httplib::Request& request, httplib::Response& response) {
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
  Roomy<httplib::Server> local;

  Pairing pairing;
  std::atomic<double> last_seen{0};
  Certificate certificate;
  std::string fingerprint;
  int lan_port = 0;
  std::unique_ptr<Roomy<httplib::SSLServer>> lan;
};

Service::Service(const ServiceOptions& options) : inside_(std::make_unique<Inside>(options)) {}
Service::~Service() = default;

int Service::bind() {
  auto& in = *inside_;
  if (in.options.port == 0) {
    in.port = in.local.bind_to_any_port("127.0.0.1");
    if (in.port < 0) in.port = 0;
  } else {
    in.port = in.local.bind_to_port("127.0.0.1", in.options.port) ? in.options.port : 0;
  }
  if (in.port > 0) in.local.make_room();
  return in.port;
}

base::Outcome<int> Service::bind_to_network() {
  auto& in = *inside_;
  auto certificate = certificate_in(in.options.lan_certificate, in.options.lan_names);
  if (!certificate) return base::fail(std::move(certificate.error()));
  in.certificate = std::move(*certificate);
  in.fingerprint = in.certificate.fingerprint;
  auto lan = std::make_unique<Roomy<httplib::SSLServer>>(in.certificate.x509.get(), in.certificate.key.get());
  const base::Problem taken{base::ProblemKind::environment, "port_taken", "", "The port for the network is taken.", "", "Choose another with --lan-port, or 0 for any free one."};
  if (!lan->is_valid()) return base::fail(base::Problem{base::ProblemKind::environment, "no_certificate", in.options.lan_certificate, "The certificate cannot be used.", "", "Remove its file; a new one is made."});
  in.routes(*lan, true);
  const int wanted = in.options.lan_port;
  const int got = wanted == 0 ? lan->bind_to_any_port("0.0.0.0") : (lan->bind_to_port("0.0.0.0", wanted) ? wanted : -1);
  if (got <= 0) return base::fail(taken);
  lan->make_room();
  in.lan = std::move(lan);
  return in.lan_port = got;
}

void Service::run() {
  auto& in = *inside_;
  std::thread network;
  if (in.lan) network = std::thread([&in] { in.lan->listen_after_bind(); });
  in.local.listen_after_bind();
  if (in.lan) {
    while (!in.lan->is_running()) std::this_thread::yield();  // stopping what has not begun would be forgotten
    in.lan->stop();
    network.join();
  }
}

void Service::stop() { inside_->local.stop(); }

double Service::idle_seconds() const { return inside_->jobs.any_running() ? 0.0 : inside_->now() - inside_->last_seen; }
Service::Way Service::way_in() const { return inside_->way_in(); }

bool is_workbench(int port) {
  httplib::Client client("127.0.0.1", port);
  client.set_connection_timeout(2);
  client.set_read_timeout(2);
  const auto answer = client.Get("/api/version");
  return answer && answer->status == 200 && answer->body.find("\"build\"") != std::string::npos && answer->get_header_value("Content-Security-Policy") == kContentPolicy;
}

}  // namespace rollwright::server
