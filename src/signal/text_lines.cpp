#include "signal/text_lines.h"

#include <zlib.h>

#include <cstring>
#include <stdexcept>
#include <vector>

namespace rollwright::signal {
namespace {

constexpr std::size_t kPiece = 1 << 18;
constexpr std::size_t kSpare = 1;  // a line end past the last line

// A stream whose first bytes have been looked at and are given back.
class Replayed : public base::ByteStream {
 public:
  Replayed(std::string head, std::unique_ptr<base::ByteStream> rest) : head_(std::move(head)), rest_(std::move(rest)) {}
  std::size_t read(char* into, std::size_t size) override {
    if (given_ < head_.size()) {
      const std::size_t n = std::min(size, head_.size() - given_);
      std::memcpy(into, head_.data() + given_, n);
      given_ += n;
      return n;
    }
    return rest_->read(into, size);
  }

 private:
  std::string head_;
  std::size_t given_ = 0;
  std::unique_ptr<base::ByteStream> rest_;
};

class Unpacked : public base::ByteStream {
 public:
  explicit Unpacked(std::unique_ptr<base::ByteStream> packed) : packed_(std::move(packed)), input_(kPiece) {
    // 15 + 16: the largest window, gzip wrapping only.
    if (inflateInit2(&state_, 15 + 16) != Z_OK) throw std::runtime_error("the unpacking of gzip could not start");
  }
  ~Unpacked() override { inflateEnd(&state_); }
  Unpacked(const Unpacked&) = delete;
  Unpacked& operator=(const Unpacked&) = delete;

  std::size_t read(char* into, std::size_t size) override {
    if (is_done_) return 0;
    state_.next_out = reinterpret_cast<Bytef*>(into);
    state_.avail_out = static_cast<uInt>(size);
    while (state_.avail_out == size) {
      if (state_.avail_in == 0) {
        const std::size_t n = packed_->read(input_.data(), input_.size());
        if (n == 0) {
          is_done_ = true;
          if (is_between_members_) return 0;
          throw std::runtime_error("the gzip file breaks off before its end");
        }
        state_.next_in = reinterpret_cast<Bytef*>(input_.data());
        state_.avail_in = static_cast<uInt>(n);
      }
      if (is_between_members_) {
        inflateReset(&state_);
        is_between_members_ = false;
      }
      const int code = inflate(&state_, Z_NO_FLUSH);
      if (code == Z_STREAM_END) {
        is_between_members_ = true;
      } else if (code != Z_OK && code != Z_BUF_ERROR) {
        throw std::runtime_error("the gzip file is damaged");
      }
    }
    return size - state_.avail_out;
  }

 private:
  std::unique_ptr<base::ByteStream> packed_;
  std::vector<char> input_;
  z_stream state_{};
  bool is_between_members_ = false;
  bool is_done_ = false;
};

// UTF-16 with a byte-order mark, as some spreadsheets write it; pairs of surrogates become '?', which no number needs.
class FromUtf16 : public base::ByteStream {
 public:
  FromUtf16(std::unique_ptr<base::ByteStream> wide, bool is_big_endian)
      : wide_(std::move(wide)), is_big_endian_(is_big_endian) {}
  std::size_t read(char* into, std::size_t size) override {
    std::size_t written = 0;
    while (written == 0) {
      std::vector<char> raw(std::max<std::size_t>(2, (size / 3) & ~std::size_t{1}));
      std::size_t have = 0;
      if (has_odd_) {
        raw[0] = odd_;
        have = 1;
        has_odd_ = false;
      }
      const std::size_t n = wide_->read(raw.data() + have, raw.size() - have);
      if (n == 0) return 0;
      have += n;
      if (have % 2 == 1) {
        odd_ = raw[have - 1];
        has_odd_ = true;
      }
      for (std::size_t i = 0; i + 1 < have; i += 2) {
        const auto a = static_cast<unsigned char>(raw[i]), b = static_cast<unsigned char>(raw[i + 1]);
        const unsigned code = is_big_endian_ ? (a * 256u + b) : (b * 256u + a);
        if (code < 0x80) {
          into[written++] = static_cast<char>(code);
        } else if (code < 0x800) {
          into[written++] = static_cast<char>(0xC0 | (code >> 6));
          into[written++] = static_cast<char>(0x80 | (code & 0x3F));
        } else if (code >= 0xD800 && code < 0xE000) {
          into[written++] = '?';
        } else {
          into[written++] = static_cast<char>(0xE0 | (code >> 12));
          into[written++] = static_cast<char>(0x80 | ((code >> 6) & 0x3F));
          into[written++] = static_cast<char>(0x80 | (code & 0x3F));
        }
      }
    }
    return written;
  }

 private:
  std::unique_ptr<base::ByteStream> wide_;
  bool is_big_endian_;
  char odd_ = 0;
  bool has_odd_ = false;
};

std::string head_of(base::ByteStream& stream, std::size_t size) {
  std::string head(size, '\0');
  std::size_t have = 0;
  while (have < size) {
    const std::size_t n = stream.read(head.data() + have, size - have);
    if (n == 0) break;
    have += n;
  }
  head.resize(have);
  return head;
}

}  // namespace

std::unique_ptr<base::ByteStream> open_text(const base::ByteSource& source) {
  auto stream = source.open();
  std::string head = head_of(*stream, 3);
  const bool is_gzip = head.size() >= 2 && head[0] == '\x1f' && head[1] == '\x8b';
  stream = std::make_unique<Replayed>(std::move(head), std::move(stream));
  if (is_gzip) {
    stream = std::make_unique<Unpacked>(std::move(stream));
  }
  head = head_of(*stream, 3);
  if (head.rfind("\xEF\xBB\xBF", 0) == 0) return std::make_unique<Replayed>(std::string(), std::move(stream));
  const bool is_little = head.rfind("\xFF\xFE", 0) == 0, is_big = head.rfind("\xFE\xFF", 0) == 0;
  if (is_little || is_big) {
    stream = std::make_unique<Replayed>(head.substr(2), std::move(stream));
    return std::make_unique<FromUtf16>(std::move(stream), is_big);
  }
  return std::make_unique<Replayed>(std::move(head), std::move(stream));
}

TextLines::TextLines(const base::ByteSource& source) : name_(source.name()) {
  try {
    stream_ = open_text(source);
  } catch (const std::runtime_error& error) {
    problem_ = base::Problem{base::ProblemKind::input, "unreadable", name_, std::string("Cannot be read: ") + error.what() + ".",
                             "", "Copy the file again."};
    is_at_end_ = true;
  }
}

bool TextLines::fill() {
  if (is_at_end_) return false;
  if (begin_ > 0) {
    std::memmove(buffer_.data(), buffer_.data() + begin_, end_ - begin_);
    end_ -= begin_;
    begin_ = 0;
  }
  if (end_ > kLongestLine) {
    problem_ = base::input_problem("line_too_long", name_ + ":" + std::to_string(line_number_ + 1),
                                   "A line is longer than 65536 characters, so this is not a table of readings.",
                                   "text with one reading a line");
    is_at_end_ = true;
    return false;
  }
  if (buffer_.size() < end_ + kPiece + kSpare) buffer_.resize(end_ + kPiece + kSpare);
  try {
    const std::size_t n = stream_->read(buffer_.data() + end_, kPiece);
    if (std::memchr(buffer_.data() + end_, 0, n) != nullptr) {
      problem_ = base::input_problem("not_text", name_, "The file holds zero bytes, so it is not a text table.",
                                     "delimited text or GPX, as it is or gzip-packed",
                                     "Export the recording as text from the program that made it.");
      is_at_end_ = true;
      return false;
    }
    end_ += n;
    if (n == 0) is_at_end_ = true;
    return n > 0;
  } catch (const std::runtime_error& error) {
    problem_ = base::input_problem("unreadable", name_, std::string("Cannot be read to its end: ") + error.what() + ".", "",
                                   "Copy the file again.");
    is_at_end_ = true;
    return false;
  }
}

std::optional<std::string_view> TextLines::next() {
  std::size_t searched = 0;
  while (true) {
    const char* from = buffer_.data() + begin_;
    const std::size_t size = end_ - begin_;
    const auto* found = size > searched ? static_cast<const char*>(std::memchr(from + searched, '\n', size - searched)) : nullptr;
    if (found == nullptr && size > 0) {
      // Old files end their lines with a carriage return alone.
      const auto* lone = static_cast<const char*>(std::memchr(from, '\r', size));
      const bool is_last = lone != nullptr && lone + 1 == from + size;
      if (lone != nullptr && (is_last ? is_at_end_ : lone[1] != '\n')) found = lone;
    }
    if (found != nullptr) {
      std::size_t length = static_cast<std::size_t>(found - from);
      begin_ += length + 1;
      ++line_number_;
      if (length > 0 && from[length - 1] == '\r') --length;
      return std::string_view(from, length);
    }
    searched = size;
    if (!fill()) {
      if (problem_ || end_ == begin_) return std::nullopt;
      buffer_[end_] = '\n';
      const std::string_view last(buffer_.data() + begin_, end_ - begin_);
      begin_ = end_;
      ++line_number_;
      return last;
    }
  }
}

}  // namespace rollwright::signal
