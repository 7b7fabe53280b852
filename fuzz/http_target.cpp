#include <arpa/inet.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <thread>

#include "server/service.h"
#include "targets.h"

namespace rollwright::fuzz {
namespace {

class Running {
 public:
  Running() : service_({0, 1 << 16, 1 << 20}), port_(service_.bind()), thread_([this] { service_.run(); }) { FUZZ_HOLDS(port_ != 0); }
  ~Running() {
    service_.stop();
    thread_.join();
  }
  [[nodiscard]] int port() const { return port_; }

 private:
  server::Service service_;
  int port_;
  std::thread thread_;
};

}  // namespace

// "HOST" in the bytes stands for the server's own name, so that mutated requests get past the first door.
void http_requests(std::string_view bytes) {
  static const Running running;
  std::string sent(bytes);
  const std::string host = "127.0.0.1:" + std::to_string(running.port());
  for (std::size_t at = 0; (at = sent.find("HOST", at)) != std::string::npos; at += host.size()) sent.replace(at, 4, host);

  const int socket_id = socket(AF_INET, SOCK_STREAM, 0);
  FUZZ_HOLDS(socket_id >= 0);
  const timeval patience{60, 0};
  setsockopt(socket_id, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
  sockaddr_in address{};
  address.sin_family = AF_INET;
  address.sin_port = htons(static_cast<std::uint16_t>(running.port()));
  inet_pton(AF_INET, "127.0.0.1", &address.sin_addr);
  FUZZ_HOLDS(connect(socket_id, reinterpret_cast<const sockaddr*>(&address), sizeof address) == 0);
  std::size_t done = 0;
  while (done < sent.size()) {
    const auto count = send(socket_id, sent.data() + done, sent.size() - done, MSG_NOSIGNAL);
    if (count <= 0) break;  // the server may close early
    done += static_cast<std::size_t>(count);
  }
  // The server writes nothing to whoever has hung up already, so a whole request gets a moment for its answer to begin.
  pollfd wait{socket_id, POLLIN, 0};
  poll(&wait, 1, 20);
  shutdown(socket_id, SHUT_WR);
  std::string reply;
  char block[4096];
  ssize_t count = 0;
  while ((count = recv(socket_id, block, sizeof block, 0)) > 0) reply.append(block, static_cast<std::size_t>(count));
  const bool is_hanging = count < 0 && (errno == EAGAIN || errno == EWOULDBLOCK);
  close(socket_id);
  FUZZ_HOLDS(!is_hanging);
  if (reply.empty()) return;
  FUZZ_HOLDS(reply.starts_with("HTTP/1.1 "));
  FUZZ_HOLDS(!reply.starts_with("HTTP/1.1 500"));
}

}  // namespace rollwright::fuzz
