// Pairing: how a phone on the same network gets in. Somebody who sees this machine's screen reads an eight-digit code
// there; whoever says it is given a session, and the code is used up. A session lasts as long as the program.
//
// Guessing: eight digits, five wrong ones in a row close the door for a minute and make a new code; each further closing
// lasts twice as long, an hour at most. At that rate a code is guessed within a year with a probability of less than one in a
// hundred (5 tries an hour · 8766 h / 10⁸ = 0.04 %; the first hours add under a hundred tries). The limit is for all
// callers together, since addresses are free to invent on a network.
#pragma once

#include <functional>
#include <mutex>
#include <set>
#include <string>

namespace rollwright::server {

class Pairing {
 public:
  using Clock = std::function<double()>;  // seconds, never backwards

  explicit Pairing(Clock clock);

  // The code that pairs the next device.
  [[nodiscard]] std::string code() const;

  enum class Answer { welcome, wrong, closed };
  struct Reply {
    Answer answer = Answer::wrong;
    std::string session;     // when welcome: 256 random bits as hexadecimal digits
    double wait_seconds = 0; // when closed
  };
  Reply try_code(const std::string& code);

  [[nodiscard]] bool knows(const std::string& session) const;
  [[nodiscard]] std::size_t devices() const;

 private:
  Clock clock_;
  mutable std::mutex mutex_;
  std::string code_;
  int wrong_ = 0;
  double pause_ = 60;
  double closed_until_ = -1;
  std::set<std::string> sessions_;
};

// The session in a Cookie header; empty when there is none.
std::string session_of(const std::string& cookies);

// The Set-Cookie header of a session.
std::string cookie_of(const std::string& session);

}  // namespace rollwright::server
