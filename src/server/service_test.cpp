#include "server/service.h"

#include <gtest/gtest.h>
#include <httplib.h>

#include <stdlib.h>  // NOLINT: mkdtemp is POSIX

#include <atomic>
#include <chrono>
#include <filesystem>
#include <fstream>
#include <nlohmann/json.hpp>
#include <sstream>
#include <thread>
#include <vector>

#include "server/guard.h"

namespace rollwright::server {
namespace {

using Json = nlohmann::json;

class ServiceTest : public testing::Test {
 protected:
  ServiceTest() : service_({0, 1 << 20, 8 << 20}), port_(service_.bind()), thread_([this] { service_.run(); }), client_("127.0.0.1", port_) {
    while (!client_.Get("/api/version")) std::this_thread::yield();
  }
  ~ServiceTest() override {
    service_.stop();
    thread_.join();
  }

  static std::string bar_request() {
    std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/bars/wren-rear-three-hole.json");
    std::stringstream text;
    text << "{\"bar\": " << file.rdbuf() << "}";
    return text.str();
  }

  Service service_;
  int port_;
  std::thread thread_;
  httplib::Client client_;
};

TEST_F(ServiceTest, AQuestionIsAnswered) {
  const auto reply = client_.Post("/api/bar/rate", bar_request(), "application/json");
  ASSERT_TRUE(reply);
  EXPECT_EQ(reply->status, 200);
  EXPECT_EQ(Json::parse(reply->body)["result"]["settings"].size(), 7U);
}

TEST_F(ServiceTest, BadInputIs422AndUnknownQuestions404) {
  EXPECT_EQ(client_.Post("/api/bar/rate", "{}", "application/json")->status, 422);
  EXPECT_EQ(client_.Post("/api/bar/rate", "{\"bar\"", "application/json")->status, 422);
  EXPECT_EQ(client_.Post("/api/bar/nonsense", "{}", "application/json")->status, 404);
  EXPECT_EQ(client_.Get("/nothing")->status, 404);
}

// A page from elsewhere that points its own name here (rebinding), or sends a form here, is refused.
TEST_F(ServiceTest, OtherHostsOriginsAndContentTypesAreRefused) {
  const std::string own = "127.0.0.1:" + std::to_string(port_);
  EXPECT_EQ(client_.Post("/api/bar/rate", {{"Host", "evil.example"}}, bar_request(), "application/json")->status, 403);
  EXPECT_EQ(client_.Post("/api/bar/rate", {{"Host", own}, {"Origin", "http://evil.example"}}, bar_request(), "application/json")->status, 403);
  EXPECT_EQ(client_.Post("/api/bar/rate", {{"Host", own}, {"Sec-Fetch-Site", "cross-site"}}, bar_request(), "application/json")->status, 403);
  EXPECT_EQ(client_.Post("/api/bar/rate", bar_request(), "text/plain")->status, 415);
  EXPECT_EQ(client_.Post("/api/bar/rate", {{"Host", own}, {"Origin", "http://" + own}}, bar_request(), "application/json")->status, 200);
}

TEST_F(ServiceTest, ARequestThatIsTooLargeIsRefused) {
  const std::string huge(2 << 20, ' ');
  EXPECT_EQ(client_.Post("/api/bar/rate", huge, "application/json")->status, 413);
}

TEST_F(ServiceTest, AFileIsKeptUnderAnIdAndNamesCannotEscape) {
  const auto reply = client_.Post("/api/files?name=..%2F..%2Fetc%2Fpasswd", "a,b\n1,2\n", "application/octet-stream");
  ASSERT_TRUE(reply);
  EXPECT_EQ(reply->status, 201);
  const auto json = Json::parse(reply->body);
  EXPECT_EQ(json["file"].get<std::string>().size(), 32U);
  EXPECT_EQ(json["bytes"], 8.0);
}

TEST_F(ServiceTest, UploadsBeyondTheAllowanceAreRefusedAndLeaveNoTrace) {
  const std::string large(5 << 20, 'x');
  EXPECT_EQ(client_.Post("/api/files?name=a", large, "application/octet-stream")->status, 201);
  EXPECT_EQ(client_.Post("/api/files?name=b", large, "application/octet-stream")->status, 507);
  EXPECT_EQ(client_.Post("/api/files?name=c", std::string(2 << 20, 'x'), "application/octet-stream")->status, 201);
}

TEST_F(ServiceTest, AJobCanBeWatchedToItsAnswer) {
  const auto started = client_.Post("/api/jobs/bar/rate", bar_request(), "application/json");
  ASSERT_EQ(started->status, 202);
  const std::string id = Json::parse(started->body)["job"];
  Json state;
  do {
    state = Json::parse(client_.Get("/api/jobs/" + id)->body);
    std::this_thread::yield();
  } while (state["state"] == "running");
  EXPECT_EQ(state["state"], "done");
  EXPECT_EQ(state["answer"]["result"]["settings"].size(), 7U);
  EXPECT_EQ(client_.Get("/api/jobs/" + std::string(32, '0'))->status, 404);
}

// The longest question there is, with far more cars than the test waits for: it must say how far it is, and stop when nobody
// wants it any more. Ten seconds are for a busy machine; a slice between two looks at the flag is some milliseconds of work.
TEST_F(ServiceTest, ALongRankingSaysHowFarItIsAndCanBeGivenUp) {
  std::ifstream file(std::string(ROLLWRIGHT_SOURCE_DIR) + "/examples/dunlin.json");
  std::stringstream car;
  car << file.rdbuf();
  const std::string request = "{\"car\": " + car.str() + ", \"complaints\": [\"leans\"], \"budget_money\": 3000, \"draws\": 20000}";
  const auto started = client_.Post("/api/jobs/choose/rank", request, "application/json");
  ASSERT_EQ(started->status, 202) << started->body;
  const std::string id = Json::parse(started->body)["job"];
  const auto look = [&] { return Json::parse(client_.Get("/api/jobs/" + id)->body); };
  const auto deadline = std::chrono::steady_clock::now() + std::chrono::seconds(120);
  Json state = look();
  while (state["state"] == "running" && state["fraction"].get<double>() <= 0.0 && std::chrono::steady_clock::now() < deadline) {
    std::this_thread::yield();
    state = look();
  }
  ASSERT_EQ(state["state"], "running") << state.dump();
  EXPECT_GT(state["fraction"].get<double>(), 0.0);
  EXPECT_LT(state["fraction"].get<double>(), 1.0);
  EXPECT_FALSE(state["doing"].get<std::string>().empty());
  const auto given_up = std::chrono::steady_clock::now();
  EXPECT_EQ(client_.Delete("/api/jobs/" + id)->status, 200);
  do {
    state = look();
    std::this_thread::yield();
  } while (state["state"] == "running" && std::chrono::steady_clock::now() < given_up + std::chrono::seconds(60));
  EXPECT_EQ(state["state"], "cancelled");
  EXPECT_LT(std::chrono::steady_clock::now() - given_up, std::chrono::seconds(10));
  EXPECT_EQ(state["answer"]["problems"][0]["code"], "cancelled");
}

TEST_F(ServiceTest, EveryAnswerForbidsWhatIsNotItsOwn) {
  const auto reply = client_.Get("/api/version");
  EXPECT_NE(reply->get_header_value("Content-Security-Policy").find("default-src 'self'"), std::string::npos);
  EXPECT_EQ(reply->get_header_value("X-Content-Type-Options"), "nosniff");
}

TEST(NotebookService, WhatThePageKeepsIsInTheFileAndAnExportCanBeFetched) {
  std::string folder = (std::filesystem::temp_directory_path() / "rollwright-test-XXXXXX").string();
  ASSERT_NE(mkdtemp(folder.data()), nullptr);
  {
    ServiceOptions options;
    options.notebook = folder + "/page.garage";
    Service service(options);
    const int port = service.bind();
    std::thread thread([&] { service.run(); });
    httplib::Client client("127.0.0.1", port);
    while (!client.Get("/api/version")) std::this_thread::yield();
    const Json request{{"files", Json::array({{{"name", "wren.json"}, {"text", "{\"kind\": \"car/1\", \"name\": \"Wren\"}"}}})}};
    EXPECT_EQ(client.Post("/api/notebook/add", request.dump(), "application/json")->status, 200);
    EXPECT_TRUE(std::filesystem::exists(options.notebook));
    const auto exported = client.Post("/api/notebook/export", "{}", "application/json");
    EXPECT_EQ(exported->status, 200);
    const auto file = client.Get("/api/files/" + Json::parse(exported->body)["result"]["file"].get<std::string>());
    EXPECT_EQ(file->status, 200);
    EXPECT_EQ(file->body.substr(0, 23), "rollwright-notebook.txt");
    EXPECT_EQ(file->body.size() % 512, 0u);
    service.stop();
    thread.join();
  }
  std::filesystem::remove_all(folder);
}

// Three times as many at once as there are threads: those that wait are answered too.
TEST_F(ServiceTest, AHundredRequestsAtOnceAreAllAnswered) {
  const std::string request = bar_request();
  std::vector<std::thread> callers;
  std::atomic<int> answered{0};
  for (int i = 0; i < 100; ++i) {
    callers.emplace_back([&] {
      httplib::Client client("127.0.0.1", port_);
      client.set_read_timeout(60);
      const auto reply = client.Post("/api/bar/rate", request, "application/json");
      if (reply && reply->status == 200) ++answered;
    });
  }
  for (auto& caller : callers) caller.join();
  EXPECT_EQ(answered, 100);
}

TEST(NotebookService, AHundredPagesWriteAtOnceAndAllOfItIsKept) {
  std::string folder = (std::filesystem::temp_directory_path() / "rollwright-test-XXXXXX").string();
  ASSERT_NE(mkdtemp(folder.data()), nullptr);
  {
    ServiceOptions options;
    options.notebook = folder + "/page.garage";
    Service service(options);
    const int port = service.bind();
    std::thread thread([&] { service.run(); });
    std::vector<std::thread> callers;
    std::atomic<int> kept{0};
    for (int i = 0; i < 100; ++i) {
      callers.emplace_back([&, i] {
        httplib::Client client("127.0.0.1", port);
        client.set_read_timeout(60);
        const std::string name = "car " + std::to_string(i);
        const Json request{{"files", Json::array({{{"name", name + ".json"}, {"text", "{\"kind\": \"car/1\", \"name\": \"" + name + "\"}"}}})}};
        const auto reply = client.Post("/api/notebook/add", request.dump(), "application/json");
        if (reply && reply->status == 200) ++kept;
      });
    }
    for (auto& caller : callers) caller.join();
    EXPECT_EQ(kept, 100);
    httplib::Client client("127.0.0.1", port);
    EXPECT_EQ(Json::parse(client.Post("/api/notebook/list", "{}", "application/json")->body)["result"]["documents"].size(), 100u);
    service.stop();
    thread.join();
  }
  std::filesystem::remove_all(folder);
}

// A stop in the middle finishes what it has begun: whatever was answered is in the file.
TEST(NotebookService, StoppedInTheMiddleWhatWasAnsweredIsKept) {
  std::string folder = (std::filesystem::temp_directory_path() / "rollwright-test-XXXXXX").string();
  ASSERT_NE(mkdtemp(folder.data()), nullptr);
  ServiceOptions options;
  options.notebook = folder + "/page.garage";
  std::atomic<int> answered{0};
  {
    Service service(options);
    const int port = service.bind();
    std::thread thread([&] { service.run(); });
    std::vector<std::thread> callers;
    std::atomic<bool> is_over{false};
    for (int i = 0; i < 8; ++i) {
      callers.emplace_back([&, i] {
        httplib::Client client("127.0.0.1", port);
        for (int k = 0; !is_over && k < 1000; ++k) {
          const std::string name = "car " + std::to_string(i) + " " + std::to_string(k);
          const Json request{{"files", Json::array({{{"name", name + ".json"}, {"text", "{\"kind\": \"car/1\", \"name\": \"" + name + "\"}"}}})}};
          const auto reply = client.Post("/api/notebook/add", request.dump(), "application/json");
          if (!reply) return;
          if (reply->status == 200) ++answered;
        }
      });
    }
    while (answered < 20) std::this_thread::yield();
    service.stop();
    thread.join();
    is_over = true;
    for (auto& caller : callers) caller.join();
  }
  Service again(options);
  const int port = again.bind();
  std::thread thread([&] { again.run(); });
  httplib::Client client("127.0.0.1", port);
  while (!client.Get("/api/version")) std::this_thread::yield();
  const auto kept = Json::parse(client.Post("/api/notebook/list", "{}", "application/json")->body)["result"]["documents"].size();
  EXPECT_GE(kept, static_cast<std::size_t>(answered));
  again.stop();
  thread.join();
  std::filesystem::remove_all(folder);
}

// Idle is the time since the last request, by a clock of the test's own.
TEST(IdleService, CountsFromTheLastRequest) {
  std::atomic<double> now{100};
  ServiceOptions options;
  options.clock = [&] { return now.load(); };
  Service service(options);
  const int port = service.bind();
  std::thread thread([&] { service.run(); });
  httplib::Client client("127.0.0.1", port);
  while (!client.Get("/api/version")) std::this_thread::yield();
  now = 160;
  EXPECT_EQ(service.idle_seconds(), 60);
  ASSERT_TRUE(client.Get("/api/version"));
  EXPECT_EQ(service.idle_seconds(), 0);
  service.stop();
  thread.join();
}

// What a second start from the menu relies on: a running workbench is known from any other program on its port.
TEST_F(ServiceTest, ARunningWorkbenchIsRecognised) {
  EXPECT_TRUE(is_workbench(port_));
  httplib::Server other;
  other.Get("/api/version", [](const httplib::Request&, httplib::Response& response) { response.set_content("{\"build\": 1}", "application/json"); });
  const int port = other.bind_to_any_port("127.0.0.1");
  std::thread thread([&] { other.listen_after_bind(); });
  while (!other.is_running()) std::this_thread::yield();
  EXPECT_FALSE(is_workbench(port));
  other.stop();
  thread.join();
  EXPECT_FALSE(is_workbench(port)) << "nobody listens there now";
}

TEST(Guard, OnlyLoopbackNamesWithThePortAreOwn) {
  EXPECT_TRUE(is_own_host("127.0.0.1:80", 80));
  EXPECT_TRUE(is_own_host("localhost:80", 80));
  EXPECT_TRUE(is_own_host("[::1]:80", 80));
  EXPECT_FALSE(is_own_host("127.0.0.1:81", 80));
  EXPECT_FALSE(is_own_host("127.0.0.1.evil.example:80", 80));
  EXPECT_FALSE(is_own_host("", 80));
}

}  // namespace
}  // namespace rollwright::server
