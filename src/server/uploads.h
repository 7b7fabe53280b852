// Uploads: files that the page sent, kept under a name nobody can guess until the server stops.
#pragma once

#include <cstdint>
#include <cstdio>
#include <map>
#include <mutex>
#include <string>

#include "base/byte_source.h"
#include "base/problem.h"

namespace rollwright::server {

class Uploads {
 public:
  // Files lie in a folder of their own, readable by this user only, which goes when the object goes.
  explicit Uploads(std::uint64_t most_bytes = 4ULL << 30);
  ~Uploads();
  Uploads(const Uploads&) = delete;
  Uploads& operator=(const Uploads&) = delete;

  // Receives one file piece by piece; nothing of it stays when it is not finished.
  class Receiver {
   public:
    Receiver(Uploads& uploads, std::string name);
    ~Receiver();
    Receiver(const Receiver&) = delete;
    Receiver& operator=(const Receiver&) = delete;
    // False when the disk or the allowance is full.
    bool write(const char* bytes, std::size_t size);
    // Keeps the file; returns its id, empty when writing failed.
    std::string finish();
    [[nodiscard]] std::uint64_t size() const { return size_; }

   private:
    Uploads& uploads_;
    std::string name_;
    std::string id_;
    std::FILE* file_;
    std::uint64_t size_ = 0;
    bool has_failed_ = false;
  };

  // The file with this id under the name that it was sent with.
  [[nodiscard]] base::Outcome<base::InputFile> find(const std::string& id) const;

 private:
  [[nodiscard]] std::string path_of(const std::string& id) const;

  std::string folder_;
  std::uint64_t most_bytes_;
  mutable std::mutex mutex_;
  std::uint64_t bytes_ = 0;
  std::map<std::string, std::string> names_;
};

// 128 random bits as hexadecimal digits, from the operating system.
std::string random_id();

}  // namespace rollwright::server
