#include "notebook/entries.h"

#include <charconv>
#include <initializer_list>
#include <utility>

#include "notebook/sha256.h"
#include "notebook/trouble.h"

namespace rollwright::notebook {
namespace {

std::string head(std::initializer_list<std::pair<const char*, std::string>> lines) {
  std::string out;
  for (const auto& [key, value] : lines) out += std::string(key) + ": " + value + "\n";
  return out;
}

void require(const std::string& head, const char* what) {
  if (head.rfind(std::string("entry: ") + what + "\n", 0) != 0) throw damaged("An entry does not say what it is.");
}

}  // namespace

std::string head_of(const Version& v) {
  return head({{"entry", "version"}, {"document", v.document}, {"parent", v.parent}, {"settles", v.settles}, {"restores", v.restores},
               {"generation", std::to_string(v.generation)}, {"removed", v.removed ? "1" : "0"}, {"kind", v.kind}, {"name", v.name}, {"written", v.written}});
}

std::string head_of(const Receipt& r) {
  return head({{"entry", "receipt"}, {"hash", r.hash}, {"document", r.document}, {"name", r.name}, {"written", r.written}});
}

std::string head_of(const Result& r) {
  return head({{"entry", "result"}, {"operation", r.operation}, {"document", r.document}, {"build", r.build}, {"written", r.written},
               {"request-bytes", std::to_string(r.request.size())}});
}

std::string id_of(const Version& v) { return Sha256().add(head_of(v)).add(v.text).finish(); }
std::string id_of(const Receipt& r) { return sha256(head_of(r)); }
std::string id_of(const Result& r) { return Sha256().add(head_of(r)).add(r.request).add(r.answer).finish(); }

Version version_from(const std::string& h) {
  require(h, "version");
  return {"", head_value(h, "document"), head_value(h, "parent"), head_value(h, "settles"), head_value(h, "restores"), head_number(h, "generation"),
          head_number(h, "removed") != 0, head_value(h, "kind"), head_value(h, "name"), head_value(h, "written"), ""};
}

Receipt receipt_from(const std::string& h) {
  require(h, "receipt");
  return {"", head_value(h, "hash"), head_value(h, "document"), head_value(h, "name"), head_value(h, "written")};
}

Result result_from(const std::string& h) {
  require(h, "result");
  return {"", head_value(h, "operation"), head_value(h, "document"), head_value(h, "build"), head_value(h, "written"), "", ""};
}

std::string head_value(const std::string& head, const std::string& key) {
  const std::string start = key + ": ";
  std::size_t at = 0;
  while (at < head.size()) {
    auto end = head.find('\n', at);
    if (end == std::string::npos) end = head.size();
    if (head.compare(at, start.size(), start) == 0) return head.substr(at + start.size(), end - at - start.size());
    at = end + 1;
  }
  return "";
}

std::int64_t head_number(const std::string& head, const std::string& key) {
  const std::string text = head_value(head, key);
  std::int64_t value = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (error != std::errc() || end != text.data() + text.size() || value < 0) throw damaged("An entry has no proper '" + key + "'.");
  return value;
}

std::string plain(std::string text) {
  std::erase_if(text, [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
  if (text.size() > 200) {
    std::size_t end = 200;
    while (end > 0 && (static_cast<unsigned char>(text[end]) & 0xc0U) == 0x80U) --end;
    text.resize(end);
  }
  return text;
}

}  // namespace rollwright::notebook
