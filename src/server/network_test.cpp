// What the network sees of the program (--lan): an unpaired device nothing but the page that pairs.
#include <gtest/gtest.h>
#include <httplib.h>

#include <stdlib.h>  // NOLINT: mkdtemp is POSIX

#include <atomic>
#include <filesystem>
#include <thread>

#include "server/pair_page.h"
#include "server/service.h"

namespace rollwright::server {
namespace {

class NetworkTest : public testing::Test {
 protected:
  NetworkTest() {
    std::string name = (std::filesystem::temp_directory_path() / "rollwright-test-XXXXXX").string();
    folder_ = mkdtemp(name.data());
    ServiceOptions options;
    options.notebook = folder_ + "/page.garage";
    options.lan_names = {"127.0.0.1", "bench.local"};
    options.lan_certificate = folder_ + "/lan.pem";
    options.clock = [this] { return now_.load(); };
    service_ = std::make_unique<Service>(options);
    local_port_ = service_->bind();
    port_ = service_->bind_to_network().value();
    thread_ = std::thread([this] { service_->run(); });
    own_ = "127.0.0.1:" + std::to_string(port_);
    client_ = std::make_unique<httplib::SSLClient>("127.0.0.1", port_);
    client_->enable_server_certificate_verification(false);  // nobody vouches for it; the person compares the fingerprint
    client_->set_read_timeout(20);
    while (!client_->Get("/pair")) std::this_thread::yield();
  }
  ~NetworkTest() override {
    service_->stop();
    thread_.join();
    std::filesystem::remove_all(folder_);
  }
  int pair(const std::string& code, httplib::Headers headers = {}) {
    const auto reply = client_->Post("/pair", headers, "code=" + code, "application/x-www-form-urlencoded");
    if (reply && reply->has_header("Set-Cookie")) cookie_ = reply->get_header_value("Set-Cookie").substr(0, reply->get_header_value("Set-Cookie").find(';'));
    return reply ? reply->status : 0;
  }
  std::string wrong() { return service_->way_in().code == "00000000" ? "00000001" : "00000000"; }

  std::atomic<double> now_{0};
  std::string folder_, own_, cookie_;
  std::unique_ptr<Service> service_;
  int local_port_ = 0, port_ = 0;
  std::thread thread_;
  std::unique_ptr<httplib::SSLClient> client_;
};

TEST_F(NetworkTest, AnUnpairedDeviceGetsNothingButThePageThatPairs) {
  EXPECT_EQ(client_->Get("/pair")->status, 200);
  EXPECT_EQ(client_->Get("/pair")->get_header_value("Referrer-Policy"), "same-origin");
  EXPECT_EQ(client_->Get("/pair")->get_header_value_count("Referrer-Policy"), 1U);
  EXPECT_EQ(client_->Get("/")->status, 303);
  EXPECT_EQ(client_->Get("/")->get_header_value("Location"), "/pair");
  for (const char* path : {"/index.html", "/api/version", "/api/operations", "/api/lan", "/api/files/00000000000000000000000000000000", "/nothing"}) {
    EXPECT_EQ(client_->Get(path)->status, 401) << path;
  }
  EXPECT_EQ(client_->Post("/api/notebook/list", "{}", "application/json")->status, 401);
  EXPECT_EQ(client_->Post("/api/files?name=x", "x", "application/octet-stream")->status, 401);
  EXPECT_EQ(client_->Post("/api/notebook/list", {{"Cookie", "rollwright_session="}}, "{}", "application/json")->status, 401);
  EXPECT_EQ(client_->Post("/api/notebook/list", {{"Cookie", "rollwright_session=" + std::string(64, '0')}}, "{}", "application/json")->status, 401);
}

TEST_F(NetworkTest, APairedDeviceAsksAsThePageDoes) {
  ASSERT_EQ(pair(service_->way_in().code), 303);
  EXPECT_EQ(client_->Post("/api/notebook/list", {{"Cookie", cookie_}}, "{}", "application/json")->status, 200);
  EXPECT_EQ(client_->Get("/api/version", {{"Cookie", cookie_}})->status, 200);
  EXPECT_EQ(client_->Post("/api/notebook/list", {{"Cookie", cookie_}}, "{}", "text/plain")->status, 415);
  EXPECT_EQ(client_->Get("/api/lan", {{"Cookie", cookie_}})->status, 404);  // the code is shown on this machine alone
}

TEST_F(NetworkTest, WrongCodesAreLimitedAndTheNextCodeIsAnother) {
  const std::string first = service_->way_in().code;
  for (int i = 0; i < 4; ++i) EXPECT_EQ(pair(wrong()), 403);
  EXPECT_EQ(pair(wrong()), 429);
  EXPECT_EQ(pair(first), 429);
  EXPECT_EQ(pair(service_->way_in().code), 429);
  now_ = 61;
  EXPECT_EQ(pair(service_->way_in().code), 303);
}

// A name that somebody else lets point to this machine (rebinding), and pages from elsewhere.
TEST_F(NetworkTest, OtherNamesAndPagesAreRefused) {
  ASSERT_EQ(pair(service_->way_in().code), 303);
  const auto status = [&](httplib::Headers headers) {
    headers.emplace("Cookie", cookie_);
    return client_->Post("/api/notebook/list", headers, "{}", "application/json")->status;
  };
  EXPECT_EQ(status({{"Host", "evil.example:" + std::to_string(port_)}}), 403);
  EXPECT_EQ(status({{"Host", "localhost:" + std::to_string(port_)}}), 403);
  EXPECT_EQ(status({{"Host", "BENCH.local:" + std::to_string(port_)}}), 200);
  EXPECT_EQ(status({{"Host", own_}, {"Origin", "https://evil.example"}}), 403);
  EXPECT_EQ(status({{"Host", own_}, {"Origin", "http://" + own_}}), 403);
  EXPECT_EQ(status({{"Host", own_}, {"Origin", "https://" + own_}}), 200);
  EXPECT_EQ(pair(service_->way_in().code, {{"Host", own_}, {"Origin", "https://evil.example"}}), 403);
  EXPECT_EQ(client_->Get("/pair", {{"Host", "evil.example"}})->status, 403);
}

TEST_F(NetworkTest, PlainHttpIsNotSpokenThere) {
  httplib::Client plain("127.0.0.1", port_);
  const auto reply = plain.Get("/pair");
  EXPECT_TRUE(!reply || reply->status >= 400);
}

TEST_F(NetworkTest, ThePageOnThisMachineIsToldTheWayIn) {
  httplib::Client local("127.0.0.1", local_port_);
  const auto reply = local.Get("/api/lan");
  ASSERT_EQ(reply->status, 200);
  EXPECT_NE(reply->body.find(service_->way_in().code), std::string::npos);
  EXPECT_NE(reply->body.find(service_->way_in().fingerprint), std::string::npos);
  EXPECT_EQ(local.Get("/pair")->status, 404);
}

TEST(PairPage, TakesOverDigitsOnlyAndSaysWhatPairingMeans) {
  const std::string page = pair_page("12<script>34", "");
  EXPECT_NE(page.find("value=\"1234\""), std::string::npos);
  EXPECT_EQ(page.find("<script"), std::string::npos);
  EXPECT_NE(page.find("can read and change"), std::string::npos);
  EXPECT_EQ(code_in("code=1234%2B5678&x=1"), "12342567");
  EXPECT_EQ(code_in("x=1&code=12345678"), "12345678");
  EXPECT_EQ(code_in(""), "");
}

}  // namespace
}  // namespace rollwright::server
