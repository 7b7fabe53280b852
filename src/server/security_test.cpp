// What the server must stand, beyond what service_test.cpp asks of it. The table of all of it is docs/security.md.
#include <arpa/inet.h>
#include <gtest/gtest.h>
#include <httplib.h>
#include <netinet/in.h>
#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>
#include <zlib.h>

#include <nlohmann/json.hpp>
#include <thread>

#include "server/service.h"

namespace rollwright::server {
namespace {

class SecurityTest : public testing::Test {
 protected:
  SecurityTest() : service_({0, 1 << 20, 8 << 20}), port_(service_.bind()), thread_([this] { service_.run(); }), client_("127.0.0.1", port_) {
    while (!client_.Get("/api/version")) std::this_thread::yield();
  }
  ~SecurityTest() override {
    service_.stop();
    thread_.join();
  }

  // A connection on which anything may be sent.
  [[nodiscard]] int raw_connection() const {
    const int id = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port_));
    inet_pton(AF_INET, "127.0.0.1", &address.sin_addr);
    EXPECT_EQ(connect(id, reinterpret_cast<const sockaddr*>(&address), sizeof address), 0);
    return id;
  }
  // Sends bytes and reads the whole answer. Sending ends only when an answer has begun or none comes for a moment: the
  // server writes nothing to whoever has hung up already.
  [[nodiscard]] std::string exchange(const std::string& bytes) const {
    const int id = raw_connection();
    EXPECT_EQ(send(id, bytes.data(), bytes.size(), MSG_NOSIGNAL), static_cast<ssize_t>(bytes.size()));
    pollfd wait{id, POLLIN, 0};
    poll(&wait, 1, 500);
    shutdown(id, SHUT_WR);
    std::string reply;
    char block[4096];
    for (ssize_t got; (got = recv(id, block, sizeof block, 0)) > 0;) reply.append(block, static_cast<std::size_t>(got));
    close(id);
    return reply;
  }
  [[nodiscard]] std::string own() const { return "127.0.0.1:" + std::to_string(port_); }

  Service service_;
  int port_;
  std::thread thread_;
  httplib::Client client_;
};

TEST_F(SecurityTest, ANameThatPointsHereIsRefusedForReadsToo) {
  for (const char* path : {"/", "/api/version", "/api/operations", "/api/files/00000000000000000000000000000000"}) {
    const auto reply = client_.Get(path, {{"Host", "rebound.example:" + std::to_string(port_)}});
    EXPECT_EQ(reply->status, 403) << path;
    EXPECT_EQ(reply->body.find("operations"), std::string::npos);
  }
  EXPECT_EQ(exchange("GET / HTTP/1.0\r\n\r\n").find("HTTP/1.1 403"), 0U) << "no Host at all";
}

TEST_F(SecurityTest, AnotherPagesRequestIsRefusedWithWhateverItMaySendUnasked) {
  // What a page may send without asking first: forms and plain text [Fetch, "CORS-safelisted request-header"].
  for (const char* type : {"text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""}) {
    EXPECT_EQ(client_.Post("/api/notebook/new", {{"Origin", "http://elsewhere.example"}}, "{}", type)->status, 403) << type;
    EXPECT_NE(client_.Post("/api/notebook/new", "{}", type)->status, 200) << type;
  }
  EXPECT_EQ(client_.Get("/api/version", {{"Origin", "null"}})->status, 403) << "a sandboxed frame or a local file";
  EXPECT_EQ(client_.Get("/api/version", {{"Sec-Fetch-Site", "cross-site"}})->status, 403);
  // It is never told that it may read an answer.
  const auto reply = client_.Options("/api/bar/rate");
  EXPECT_FALSE(reply->has_header("Access-Control-Allow-Origin"));
  EXPECT_NE(reply->status, 200);
}

TEST_F(SecurityTest, PathsLeadNowhere) {
  for (const char* path : {"/../../etc/passwd", "/%2e%2e/%2e%2e/etc/passwd", "/assets/../../../etc/passwd", "//etc/passwd", "/..\\..\\etc\\passwd",
                           "/api/files/../../../etc/passwd", "/index.html%00.png", "/.git/config"}) {
    const auto reply = exchange(std::string("GET ") + path + " HTTP/1.1\r\nHost: " + own() + "\r\nConnection: close\r\n\r\n");
    EXPECT_EQ(reply.find("root:"), std::string::npos) << path;
    EXPECT_NE(reply.find("HTTP/1.1 4"), std::string::npos) << path << "\n" << reply.substr(0, 200);
  }
  // Nor does a request that names a path instead of an upload.
  const auto reply = client_.Post("/api/test/log", R"({"files":[{"path":"/etc/passwd"}]})", "application/json");
  EXPECT_EQ(reply->status, 422);
  EXPECT_NE(reply->body.find("not_a_file"), std::string::npos);
}

TEST_F(SecurityTest, AFileComesBackAsAnAttachmentWhateverItsName) {
  const std::string page = "<script>alert(1)</script>";
  const auto sent = client_.Post("/api/files?name=%22%3Cimg%20src%3Dx%3E%0d%0aSet-Cookie%3A%20a%3Db%22.html", page, "application/octet-stream");
  ASSERT_EQ(sent->status, 201);
  const auto file = client_.Get("/api/files/" + nlohmann::json::parse(sent->body)["file"].get<std::string>());
  ASSERT_EQ(file->status, 200);
  EXPECT_EQ(file->body, page);
  EXPECT_EQ(file->get_header_value("Content-Type"), "application/octet-stream");
  EXPECT_EQ(file->get_header_value("Content-Disposition").find("attachment;"), 0U);
  EXPECT_FALSE(file->has_header("Set-Cookie"));
  EXPECT_EQ(file->get_header_value("Content-Disposition").find('<'), std::string::npos);
}

TEST_F(SecurityTest, MalformedRequestsAreRefusedAndTheNextIsAnswered) {
  const std::string head = "POST /api/bar/typical HTTP/1.1\r\nHost: " + own() + "\r\nContent-Type: application/json\r\n";
  for (const std::string& bytes : {std::string("\0\1\2\3\r\n\r\n", 8), std::string("GET\r\n\r\n"), std::string("G / HTTP/9.9\r\n\r\n"), std::string(20000, 'A') + "\r\n\r\n",
                                   "GET / HTTP/1.1\r\nHost: " + own() + "\r\nX: " + std::string(20000, 'y') + "\r\n\r\n",
                                   head + "Content-Length: -1\r\n\r\n{}", head + "Content-Length: 99999999999999999999\r\n\r\n{}",
                                   head + "Content-Length: 10\r\n\r\n{}", head + "Transfer-Encoding: chunked\r\n\r\nzz\r\n{}\r\n0\r\n\r\n",
                                   head + "Content-Encoding: gzip\r\nContent-Length: 2\r\n\r\n{}"}) {
    const auto reply = exchange(bytes);
    EXPECT_EQ(reply.find("HTTP/1.1 200"), std::string::npos) << bytes.substr(0, 80);
    EXPECT_EQ(reply.find("HTTP/1.1 5"), std::string::npos) << bytes.substr(0, 80);
    EXPECT_EQ(client_.Get("/api/version")->status, 200);
  }
}

// A dozen connections that send a few bytes and then nothing: the others are answered meanwhile. More than the server's
// sixteen threads of them, which only a program on this machine could open, hold it up until they time out (30 s).
TEST_F(SecurityTest, SlowConnectionsDoNotHoldUpTheOthers) {
  std::vector<int> slow;
  for (int i = 0; i < 12; ++i) {
    slow.push_back(raw_connection());
    const std::string begun = "POST /api/bar/rate HTTP/1.1\r\nHost: ";
    EXPECT_GT(send(slow.back(), begun.data(), begun.size(), MSG_NOSIGNAL), 0);
  }
  EXPECT_EQ(client_.Get("/api/version")->status, 200);
  for (const int id : slow) close(id);
}

std::string gzipped(const std::string& bytes) {
  z_stream stream{};
  EXPECT_EQ(deflateInit2(&stream, 9, Z_DEFLATED, 15 + 16, 9, Z_DEFAULT_STRATEGY), Z_OK);
  std::string out(deflateBound(&stream, static_cast<uLong>(bytes.size())), '\0');
  stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(bytes.data()));
  stream.avail_in = static_cast<uInt>(bytes.size());
  stream.next_out = reinterpret_cast<Bytef*>(out.data());
  stream.avail_out = static_cast<uInt>(out.size());
  EXPECT_EQ(deflate(&stream, Z_FINISH), Z_STREAM_END);
  out.resize(stream.total_out);
  deflateEnd(&stream);
  return out;
}

// 32 MiB of blanks are 32 kB when packed; the limit here is 1 MiB of what they unpack to.
TEST_F(SecurityTest, APackedQuestionIsMeasuredUnpacked) {
  const std::string bomb = gzipped(std::string(32 << 20, ' '));
  ASSERT_LT(bomb.size(), 64U << 10);
  const auto reply = client_.Post("/api/bar/typical", {{"Content-Encoding", "gzip"}}, bomb, "application/json");
  ASSERT_TRUE(reply);
  EXPECT_GE(reply->status, 400);
  EXPECT_LT(reply->status, 500);
  EXPECT_EQ(client_.Get("/api/version")->status, 200);
}

}  // namespace
}  // namespace rollwright::server
