// ByteSource: a named run of bytes that can be read from the start as often as wanted, piece by piece.
//
// The subjects read logs and films through this and never see a path: the command line opens files, the server opens
// uploads, tests use text. A source larger than memory is fine.
#pragma once

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <string_view>

namespace rollwright::base {

class ByteStream {
 public:
  virtual ~ByteStream() = default;
  // Reads up to `size` bytes; returns how many, 0 at the end. Throws std::runtime_error when the medium fails.
  virtual std::size_t read(char* into, std::size_t size) = 0;
};

class ByteSource {
 public:
  virtual ~ByteSource() = default;
  [[nodiscard]] virtual const std::string& name() const = 0;       // file name without folders, for messages
  [[nodiscard]] virtual std::optional<std::uint64_t> size() const = 0;
  [[nodiscard]] virtual std::unique_ptr<ByteStream> open() const = 0;
  // A path on this machine, for libraries that insist on one (film readers); empty when there is none.
  [[nodiscard]] virtual std::string local_path() const { return {}; }
};

// Never null once a request has been read.
using InputFile = std::shared_ptr<const ByteSource>;

// Text kept in memory under a name.
InputFile text_source(std::string name, std::string text);

// The whole source as one string; for small files. Gives up (std::length_error) past `limit` bytes.
std::string read_all(const ByteSource& source, std::uint64_t limit = 64ULL << 20);

}  // namespace rollwright::base
