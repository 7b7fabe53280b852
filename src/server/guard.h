// Guard: which requests are answered at all.
//
// The server listens on the loopback address only. That alone does not stop a web page from elsewhere that the same
// browser shows: it could send requests here, or make its own name point here. So the Host must be one of ours, a
// request that says where it comes from (Origin) must come from our own page, and anything that changes or computes
// must carry a content type that other pages cannot send without asking first.
//
// The second listener, for phones on the same network (--lan), answers to this machine's names and addresses only, over TLS,
// and only to devices that were paired (pairing.h).
#pragma once

#include <string>
#include <vector>

namespace rollwright::server {

// True when `host` (with port, as in the Host header) names this server.
bool is_own_host(const std::string& host, int port);

// True when `host` names this server by one of `names`, whatever the case of its letters.
bool is_own_host(const std::string& host, int port, const std::vector<std::string>& names);

// True when there is no Origin or it is our own page.
bool is_own_origin(const std::string& origin, const std::string& host, bool is_tls = false);

// True for "application/json" and "application/octet-stream", with or without parameters.
bool is_plain_content_type(const std::string& content_type);

}  // namespace rollwright::server
