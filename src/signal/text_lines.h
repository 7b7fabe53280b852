// TextLines: a byte source as lines of text, piece by piece, in bounded memory.
//
// Opens gzip by its own mark [RFC 1952], drops a byte-order mark, turns UTF-16 into UTF-8, and accepts the line ends of
// every system. A line longer than kLongestLine is no log and ends the reading with a problem, as does a medium that
// fails or a gzip stream that breaks off. Zero bytes mean a binary file and are refused.
#pragma once

#include <cstddef>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

#include "base/byte_source.h"
#include "base/problem.h"

namespace rollwright::signal {

inline constexpr std::size_t kLongestLine = 1 << 16;

// The bytes of a source after unpacking and turning into UTF-8.
std::unique_ptr<base::ByteStream> open_text(const base::ByteSource& source);

class TextLines {
 public:
  explicit TextLines(const base::ByteSource& source);

  // The next line without its end; valid until the next call. Nothing at the end or at a problem. The character after the
  // line can be read and is a line end, so that a reader of numbers needs no look at the length.
  std::optional<std::string_view> next();
  [[nodiscard]] const std::optional<base::Problem>& problem() const { return problem_; }
  [[nodiscard]] std::size_t line_number() const { return line_number_; }

 private:
  bool fill();

  std::string name_;
  std::unique_ptr<base::ByteStream> stream_;
  std::string buffer_;
  std::size_t begin_ = 0;   // of what has not been handed out
  std::size_t end_ = 0;
  bool is_at_end_ = false;
  std::size_t line_number_ = 0;
  std::optional<base::Problem> problem_;
};

}  // namespace rollwright::signal
