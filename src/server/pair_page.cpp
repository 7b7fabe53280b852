#include "server/pair_page.h"

namespace rollwright::server {
namespace {

std::string digits_of(const std::string& text) {
  std::string digits;
  for (const char c : text) {
    if (c >= '0' && c <= '9' && digits.size() < 8) digits += c;
  }
  return digits;
}

}  // namespace

std::string pair_page(const std::string& code, const std::string& said) {
  return "<!doctype html>\n<html lang=\"en-GB\"><head><meta charset=\"utf-8\"><meta name=\"viewport\" content=\"width=device-width\">"
         "<title>Pair with Rollwright</title><link rel=\"stylesheet\" href=\"/pair.css\"></head><body><main>"
         "<h1>Pair this device with the workbench</h1>" +
         (said.empty() ? "" : "<p role=\"alert\">" + said + "</p>") +
         "<p>The computer that runs the workbench shows a code of eight digits. Once paired, this device can read and change "
         "everything in the notebook until the program is stopped.</p>"
         "<form method=\"post\" action=\"/pair\"><label for=\"code\">Code</label>"
         "<input id=\"code\" name=\"code\" inputmode=\"numeric\" autocomplete=\"one-time-code\" required value=\"" +
         digits_of(code) + "\"><button>Pair this device</button></form></main></body></html>\n";
}

std::string pair_style() {
  return "body{margin:0;padding:24px;font:18px/1.5 system-ui,sans-serif;background:#f2f4ee;color:#1b2224}"
         "main{max-width:32em;margin:auto}form{display:grid;gap:10px;max-width:16em}"
         "input,button{font:inherit;font-size:1.4em;min-height:52px;padding:4px 12px;border:2px solid #1b2224;border-radius:0;background:#fff;color:#1b2224}"
         "button{background:#1b2224;color:#fff}p[role=alert]{border-left:6px solid #1b2224;padding-left:12px}"
         ":focus-visible{outline:3px solid #1b2224;outline-offset:3px}"
         "@media (prefers-color-scheme:dark){body{background:#22292b;color:#eef0ea}input{background:#2f3638;color:#eef0ea;border-color:#eef0ea}"
         "button{background:#eef0ea;color:#22292b}:focus-visible{outline-color:#eef0ea}}\n";
}

std::string code_in(const std::string& body) {
  const std::string start = "code=";
  const auto at = body.rfind(start, 0) == 0 ? 0 : body.find("&" + start);
  if (at == std::string::npos) return "";
  const auto from = body.find('=', at) + 1;
  return digits_of(body.substr(from, body.find('&', from) - from));
}

}  // namespace rollwright::server
