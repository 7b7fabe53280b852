#include "server/pairing.h"

#include <algorithm>
#include <random>
#include <utility>

#include "server/uploads.h"

namespace rollwright::server {
namespace {

constexpr const char* kCookie = "rollwright_session";
constexpr int kWrongInARow = 5;
constexpr double kLongestPause = 3600;

std::string new_code() {
  std::random_device device;
  std::uniform_int_distribution<int> digit(0, 9);
  std::string code;
  for (int i = 0; i < 8; ++i) code += static_cast<char>('0' + digit(device));
  return code;
}

// Takes as long for a nearly right code as for a wrong one.
bool is_same(const std::string& a, const std::string& b) {
  unsigned difference = a.size() == b.size() ? 0U : 1U;
  for (std::size_t i = 0; i < a.size(); ++i) difference |= static_cast<unsigned char>(a[i]) ^ static_cast<unsigned char>(i < b.size() ? b[i] : '\0');
  return difference == 0;
}

}  // namespace

Pairing::Pairing(Clock clock) : clock_(std::move(clock)), code_(new_code()) {}

std::string Pairing::code() const {
  const std::lock_guard lock(mutex_);
  return code_;
}

Pairing::Reply Pairing::try_code(const std::string& code) {
  const std::lock_guard lock(mutex_);
  const double now = clock_();
  if (now < closed_until_) return {Answer::closed, "", closed_until_ - now};
  std::string digits = code;
  std::erase_if(digits, [](char c) { return c == ' ' || c == '-'; });
  if (is_same(code_, digits)) {
    wrong_ = 0;
    pause_ = 60;
    code_ = new_code();
    const std::string session = random_id() + random_id();
    sessions_.insert(session);
    return {Answer::welcome, session, 0};
  }
  if (++wrong_ < kWrongInARow) return {Answer::wrong, "", 0};
  wrong_ = 0;
  code_ = new_code();
  closed_until_ = now + pause_;
  const double wait = pause_;
  pause_ = std::min(2 * pause_, kLongestPause);
  return {Answer::closed, "", wait};
}

bool Pairing::knows(const std::string& session) const {
  const std::lock_guard lock(mutex_);
  return !session.empty() && sessions_.count(session) > 0;
}

std::size_t Pairing::devices() const {
  const std::lock_guard lock(mutex_);
  return sessions_.size();
}

std::string session_of(const std::string& cookies) {
  const std::string start = std::string(kCookie) + "=";
  std::size_t at = 0;
  while (at < cookies.size()) {
    auto end = cookies.find(';', at);
    if (end == std::string::npos) end = cookies.size();
    while (at < end && cookies[at] == ' ') ++at;
    if (cookies.compare(at, start.size(), start) == 0) return cookies.substr(at + start.size(), end - at - start.size());
    at = end + 1;
  }
  return "";
}

std::string cookie_of(const std::string& session) { return std::string(kCookie) + "=" + session + "; Path=/; HttpOnly; Secure; SameSite=Strict"; }

}  // namespace rollwright::server
