#include "server/certificate.h"

#include <gtest/gtest.h>
#include <openssl/x509v3.h>
#include <stdlib.h>  // NOLINT: mkdtemp is POSIX

#include <filesystem>
#include <fstream>

namespace rollwright::server {
namespace {

class CertificateTest : public testing::Test {
 protected:
  CertificateTest() {
    std::string name = (std::filesystem::temp_directory_path() / "rollwright-test-XXXXXX").string();
    folder = mkdtemp(name.data());
    path = folder + "/lan.pem";
  }
  ~CertificateTest() override { std::filesystem::remove_all(folder); }
  std::string folder, path;
};

TEST_F(CertificateTest, IsMadeOnceForAllNamesAndReadOnlyByItsOwner) {
  const auto made = certificate_in(path, {"192.168.0.10", "bench.local"});
  ASSERT_TRUE(made);
  EXPECT_TRUE(made->is_new);
  EXPECT_EQ(made->fingerprint.size(), 95U);  // 32 bytes as pairs of digits with colons between
  EXPECT_EQ(X509_check_ip_asc(made->x509.get(), "192.168.0.10", 0), 1);
  EXPECT_EQ(X509_check_host(made->x509.get(), "bench.local", 0, 0, nullptr), 1);
  EXPECT_NE(X509_check_ip_asc(made->x509.get(), "192.168.0.11", 0), 1);
  EXPECT_EQ(std::filesystem::status(path).permissions() & std::filesystem::perms::mask, std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
  const auto again = certificate_in(path, {"192.168.0.10"});
  EXPECT_FALSE(again->is_new);
  EXPECT_EQ(again->fingerprint, made->fingerprint);
}

TEST_F(CertificateTest, IsMadeAnewForAnAddressItDoesNotName) {
  const auto made = certificate_in(path, {"192.168.0.10"});
  const auto other = certificate_in(path, {"10.0.0.7"});
  EXPECT_TRUE(other->is_new);
  EXPECT_NE(other->fingerprint, made->fingerprint);
}

TEST_F(CertificateTest, ADamagedFileIsReplaced) {
  std::ofstream(path) << "no certificate";
  EXPECT_TRUE(certificate_in(path, {"10.0.0.7"})->is_new);
}

TEST_F(CertificateTest, AFolderThatCannotBeWrittenIsAProblem) {
  const auto made = certificate_in(folder + "/none/lan.pem", {"10.0.0.7"});
  ASSERT_FALSE(made);
  EXPECT_EQ(made.error().front().code, "cannot_write");
}

}  // namespace
}  // namespace rollwright::server
