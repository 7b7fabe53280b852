#include "cli/pdf.h"

#include <gtest/gtest.h>
#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <sstream>

namespace rollwright::cli {
namespace {

std::string somewhere(const char* name) {
  return (std::filesystem::temp_directory_path() / ("rollwright_pdf_" + std::to_string(getpid()) + "_" + name)).string();
}

TEST(Pdf, WithoutAPrinterItSaysWhatToInstall) {
  const std::string path = std::getenv("PATH");
  setenv("PATH", "/nowhere", 1);
  const auto printed = print_pdf("<p>page</p>", somewhere("none.pdf"));
  setenv("PATH", path.c_str(), 1);
  ASSERT_FALSE(printed);
  EXPECT_EQ(printed.error()[0].kind, base::ProblemKind::environment);
  EXPECT_NE(printed.error()[0].allowed.find("chromium"), std::string::npos);
  EXPECT_FALSE(std::filesystem::exists(somewhere("none.pdf")));
}

TEST(Pdf, APageBecomesAPdfFile) {
  const std::string file = somewhere("page.pdf");
  const auto printed = print_pdf("<!doctype html><html><body><h1>Was it worth it?</h1></body></html>", file);
  ASSERT_TRUE(printed) << printed.error()[0].message;  // ./dev installs chromium for the page's tests
  std::ifstream in(file);
  std::string head(5, ' ');
  in.read(head.data(), 5);
  EXPECT_EQ(head, "%PDF-");
  std::filesystem::remove(file);
}

TEST(Pdf, AFolderThatIsNotThereIsAProblemNotAFile) {
  EXPECT_FALSE(print_pdf("<p>page</p>", somewhere("no_folder") + "/page.pdf"));
}

}  // namespace
}  // namespace rollwright::cli
