#include "server/certificate.h"

#include <arpa/inet.h>
#include <fcntl.h>
#include <ifaddrs.h>
#include <net/if.h>
#include <netinet/in.h>
#include <openssl/evp.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509.h>
#include <openssl/x509v3.h>
#include <unistd.h>

#include <algorithm>
#include <array>
#include <cstdio>

namespace rollwright::server {
namespace {

constexpr long kDay = 86400;

bool is_address(const std::string& name) {
  in_addr address{};
  return inet_pton(AF_INET, name.c_str(), &address) == 1;
}

std::string fingerprint_of(X509* x509) {
  std::array<unsigned char, EVP_MAX_MD_SIZE> digest{};
  unsigned size = 0;
  X509_digest(x509, EVP_sha256(), digest.data(), &size);
  std::string text;
  for (unsigned i = 0; i < size; ++i) {
    char part[4];
    std::snprintf(part, sizeof part, "%s%02X", i > 0 ? ":" : "", digest[i]);
    text += part;
  }
  return text;
}

bool covers(X509* x509, const std::string& name) {
  return is_address(name) ? X509_check_ip_asc(x509, name.c_str(), 0) == 1 : X509_check_host(x509, name.c_str(), name.size(), 0, nullptr) == 1;
}

std::shared_ptr<X509> owned(X509* x509) { return {x509, &X509_free}; }
std::shared_ptr<EVP_PKEY> owned(EVP_PKEY* key) { return {key, &EVP_PKEY_free}; }

// What is in the file, when it still serves.
Certificate read(const std::string& path, const std::vector<std::string>& names) {
  const std::unique_ptr<std::FILE, decltype(&std::fclose)> file(std::fopen(path.c_str(), "r"), &std::fclose);
  if (file == nullptr) return {};
  Certificate found;
  found.key = owned(PEM_read_PrivateKey(file.get(), nullptr, nullptr, nullptr));
  found.x509 = owned(PEM_read_X509(file.get(), nullptr, nullptr, nullptr));
  if (!found.key || !found.x509 || X509_check_private_key(found.x509.get(), found.key.get()) != 1) return {};
  time_t soon = time(nullptr) + 30 * kDay;
  if (X509_cmp_time(X509_get0_notAfter(found.x509.get()), &soon) <= 0) return {};
  if (!std::all_of(names.begin(), names.end(), [&](const auto& name) { return covers(found.x509.get(), name); })) return {};
  found.fingerprint = fingerprint_of(found.x509.get());
  return found;
}

void extend(X509* x509, int nid, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, x509, x509, nullptr, nullptr, 0);
  if (X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, nid, value.c_str())) {
    X509_add_ext(x509, extension, -1);
    X509_EXTENSION_free(extension);
  }
}

Certificate make(const std::vector<std::string>& names) {
  Certificate made;
  made.is_new = true;
  made.key = owned(EVP_EC_gen("P-256"));
  made.x509 = owned(X509_new());
  if (!made.key || !made.x509) return {};
  X509* x509 = made.x509.get();
  X509_set_version(x509, 2);
  std::array<unsigned char, 8> serial{};
  if (RAND_bytes(serial.data(), static_cast<int>(serial.size())) != 1) return {};
  serial[0] &= 0x7fU;
  BIGNUM* number = BN_bin2bn(serial.data(), static_cast<int>(serial.size()), nullptr);
  BN_to_ASN1_INTEGER(number, X509_get_serialNumber(x509));
  BN_free(number);
  X509_gmtime_adj(X509_getm_notBefore(x509), -kDay);  // a phone's clock may be behind
  X509_gmtime_adj(X509_getm_notAfter(x509), 824 * kDay);
  X509_set_pubkey(x509, made.key.get());
  X509_NAME* name = X509_get_subject_name(x509);
  X509_NAME_add_entry_by_txt(name, "CN", MBSTRING_ASC, reinterpret_cast<const unsigned char*>("Rollwright on this network"), -1, -1, 0);
  X509_set_issuer_name(x509, name);
  std::string all;
  for (const auto& one : names) all += (all.empty() ? "" : ",") + std::string(is_address(one) ? "IP:" : "DNS:") + one;
  extend(x509, NID_basic_constraints, "critical,CA:FALSE");
  extend(x509, NID_key_usage, "critical,digitalSignature");
  extend(x509, NID_ext_key_usage, "serverAuth");
  if (!all.empty()) extend(x509, NID_subject_alt_name, all);
  if (X509_sign(x509, made.key.get(), EVP_sha256()) == 0) return {};
  made.fingerprint = fingerprint_of(x509);
  return made;
}

bool write(const Certificate& made, const std::string& path) {
  const std::string part = path + ".part";
  ::unlink(part.c_str());
  const int handle = ::open(part.c_str(), O_WRONLY | O_CREAT | O_EXCL, S_IRUSR | S_IWUSR);
  std::FILE* file = handle < 0 ? nullptr : ::fdopen(handle, "w");
  if (file == nullptr) return false;
  bool is_good = PEM_write_PrivateKey(file, made.key.get(), nullptr, nullptr, 0, nullptr, nullptr) == 1 && PEM_write_X509(file, made.x509.get()) == 1;
  is_good = std::fclose(file) == 0 && is_good;
  return is_good && std::rename(part.c_str(), path.c_str()) == 0;
}

}  // namespace

base::Outcome<Certificate> certificate_in(const std::string& path, const std::vector<std::string>& names) {
  if (auto found = read(path, names); found.x509) return found;
  auto made = make(names);
  if (!made.x509) return base::fail(base::Problem{base::ProblemKind::environment, "no_certificate", "", "No certificate could be made.", "", "Start without --lan."});
  if (!write(made, path)) return base::fail(base::Problem{base::ProblemKind::environment, "cannot_write", path, "The certificate cannot be kept here.", "a place you may write to", "Is the disk full or the folder read-only?"});
  return made;
}

std::vector<std::string> own_addresses() {
  std::vector<std::string> found;
  ifaddrs* list = nullptr;
  if (getifaddrs(&list) != 0) return found;
  for (const ifaddrs* one = list; one != nullptr; one = one->ifa_next) {
    if (one->ifa_addr == nullptr || one->ifa_addr->sa_family != AF_INET || (one->ifa_flags & IFF_LOOPBACK) != 0 || (one->ifa_flags & IFF_UP) == 0) continue;
    char text[INET_ADDRSTRLEN];
    const auto* address = reinterpret_cast<const sockaddr_in*>(one->ifa_addr);
    if (inet_ntop(AF_INET, &address->sin_addr, text, sizeof text) != nullptr) found.emplace_back(text);
  }
  freeifaddrs(list);
  std::sort(found.begin(), found.end());
  found.erase(std::unique(found.begin(), found.end()), found.end());
  return found;
}

std::string own_name() {
  char name[256] = {};
  if (gethostname(name, sizeof name - 1) != 0) return "";
  std::string plain = name;
  const bool is_plain = !plain.empty() && std::all_of(plain.begin(), plain.end(), [](unsigned char c) { return std::isalnum(c) != 0 || c == '-' || c == '.'; });
  return is_plain ? plain : "";
}

}  // namespace rollwright::server
