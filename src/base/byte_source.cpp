#include "base/byte_source.h"

#include <algorithm>
#include <cstring>
#include <stdexcept>
#include <utility>

namespace rollwright::base {
namespace {

class TextStream final : public ByteStream {
 public:
  explicit TextStream(std::shared_ptr<const std::string> text) : text_(std::move(text)) {}
  std::size_t read(char* into, std::size_t size) override {
    const std::size_t count = std::min(size, text_->size() - at_);
    std::memcpy(into, text_->data() + at_, count);
    at_ += count;
    return count;
  }

 private:
  std::shared_ptr<const std::string> text_;
  std::size_t at_ = 0;
};

class TextSource final : public ByteSource {
 public:
  TextSource(std::string name, std::string text)
      : name_(std::move(name)), text_(std::make_shared<const std::string>(std::move(text))) {}
  [[nodiscard]] const std::string& name() const override { return name_; }
  [[nodiscard]] std::optional<std::uint64_t> size() const override { return text_->size(); }
  [[nodiscard]] std::unique_ptr<ByteStream> open() const override { return std::make_unique<TextStream>(text_); }

 private:
  std::string name_;
  std::shared_ptr<const std::string> text_;
};

}  // namespace

InputFile text_source(std::string name, std::string text) {
  return std::make_shared<TextSource>(std::move(name), std::move(text));
}

std::string read_all(const ByteSource& source, std::uint64_t limit) {
  std::string all;
  auto stream = source.open();
  char block[1 << 16];
  while (const std::size_t count = stream->read(block, sizeof block)) {
    if (all.size() + count > limit) throw std::length_error(source.name() + " is too large to read at once");
    all.append(block, count);
  }
  return all;
}

}  // namespace rollwright::base
