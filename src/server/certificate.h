// Certificate: the server's own, made by itself, so that a phone on the same network talks to it in secret. Nobody vouches
// for it: the browser warns at the first visit, and the fingerprint on this machine's screen is what the person compares.
//
// It is an elliptic-curve key (P-256) with a certificate for this machine's names and addresses, kept in one file that only
// this user may read. It is used again until 30 days before it ends (825 days, the longest that phones take), or until an
// address is not in it.
#pragma once

#include <memory>
#include <string>
#include <vector>

#include "base/problem.h"

struct x509_st;
struct evp_pkey_st;

namespace rollwright::server {

struct Certificate {
  std::shared_ptr<x509_st> x509;
  std::shared_ptr<evp_pkey_st> key;
  std::string fingerprint;  // SHA-256, "AB:CD:…"
  bool is_new = false;
};

base::Outcome<Certificate> certificate_in(const std::string& path, const std::vector<std::string>& names);

// This machine's addresses on networks (IPv4, loopback left out), and its name.
std::vector<std::string> own_addresses();
std::string own_name();

}  // namespace rollwright::server
