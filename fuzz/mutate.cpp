#include "mutate.h"

#include <vector>

#include "wire/json_text.h"

namespace rollwright::fuzz {
namespace {

using wire::Json;

void nodes_of(Json& json, std::vector<Json*>& nodes) {
  nodes.push_back(&json);
  if (!json.is_structured()) return;
  for (auto& item : json) nodes_of(item, nodes);
}

Json awkward(base::Random& random) {
  switch (random.below(24)) {
    case 0: return 0;
    case 1: return -1;
    case 2: return 1e308;
    case 3: return -1e308;
    case 4: return 5e-324;
    case 5: return 2147483647;
    case 6: return -2147483648.0;
    case 7: return 1e18;
    case 8: return 1e-9;
    case 9: return random.normal() * 1000.0;
    case 10: return nullptr;
    case 11: return true;
    case 12: return "";
    case 13: return "<script>fuzz</script><img src=fuzz onerror=fuzz>";
    case 14: return "=HYPERLINK(\"http://fuzz\")\t\r\n\"',;";
    case 15: return "../../../../etc/passwd";
    case 16: return std::string(300, 'w');
    case 17: return "\xE2\x80\xAE\xC2\xA0\xF0\x9F\x9A\x97";
    case 18: return Json::array();
    case 19: return Json::object();
    case 20: return Json{{"value", random.normal()}, {"pm", 1e308}, {"origin", "guess"}};
    case 21: return Json{{"value", 1e-300}, {"pm", 0}};
    case 22: return 1;
    default: return random.uniform(0.0, 10.0);
  }
}

void change(Json& root, base::Random& random) {
  std::vector<Json*> nodes;
  nodes_of(root, nodes);
  Json& node = *nodes[random.below(nodes.size())];
  switch (random.below(8)) {
    case 0:
      if (node.is_object() && !node.empty()) {
        auto it = node.begin();
        std::advance(it, static_cast<std::ptrdiff_t>(random.below(node.size())));
        node.erase(it);
      } else if (node.is_array() && !node.empty()) {
        node.erase(static_cast<std::size_t>(random.below(node.size())));
      }
      return;
    case 1:
      if (node.is_array() && !node.empty() && node.size() < 64) {
        const std::size_t from = node.size();
        for (std::size_t i = 0; i < from; ++i) node.push_back(Json(node[i]));
      }
      return;
    case 2: {
      const Json other = *nodes[random.below(nodes.size())];
      if (other.size() < 200) node = other;
      return;
    }
    case 3:
    case 4:
      if (node.is_number()) {
        const double factors[] = {-1.0, 1e-6, 1e6, 10.0, 0.1, 1.0001, 0.0, 100.0};
        node = node.get<double>() * factors[random.below(8)];
        return;
      }
      [[fallthrough]];
    default: node = awkward(random);
  }
}

}  // namespace

std::string damaged_bytes(std::string bytes, base::Random& random) {
  const auto changes = 1 + random.below(random.below(4) == 0 ? 100 : 4);
  for (std::uint64_t i = 0; i < changes; ++i) {
    if (bytes.empty()) bytes = "x";
    const auto at = random.below(bytes.size());
    switch (random.below(7)) {
      case 0: bytes[at] = static_cast<char>(random.below(256)); break;
      case 1: bytes[at] = static_cast<char>(static_cast<unsigned char>(bytes[at]) ^ (1U << random.below(8))); break;
      case 2: bytes.erase(at, random.below(50)); break;
      case 3: bytes.insert(at, bytes.substr(random.below(bytes.size()), random.below(80))); break;
      case 4: bytes[at] = ",;\n\t\"-eE.:<>&/=%{}[]\0\xff"[random.below(22)]; break;
      case 5: bytes.resize(at); break;
      default:
        for (std::size_t k = at; k < bytes.size() && k < at + 4; ++k) bytes[k] = static_cast<char>(0xff);
    }
  }
  return bytes;
}

std::string damaged_tree(const std::string& text, base::Random& random) {
  const auto start = text.find('{');
  if (start == std::string::npos) return text;
  auto json = Json::parse(text.substr(start), nullptr, false);
  if (json.is_discarded()) return text;
  const auto changes = 1 + random.below(3);
  for (std::uint64_t i = 0; i < changes; ++i) change(json, random);
  return text.substr(0, start) + json.dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace rollwright::fuzz
