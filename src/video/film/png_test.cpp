#include "video/film/png.h"

#include <gtest/gtest.h>

#include <opencv2/imgcodecs.hpp>
#include <vector>

namespace rollwright::video {
namespace {

// A general library must read back every pixel: the format loses nothing, so the bound is equality [PNG §4].
TEST(Png, AGeneralLibraryReadsBackEveryPixel) {
  for (const auto& [width, height] : {std::pair{1, 1}, {7, 5}, {320, 1}, {1, 240}, {333, 211}}) {
    cv::Mat picture(height, width, CV_8UC1);
    for (int r = 0; r < height; ++r) {
      for (int c = 0; c < width; ++c) picture.at<std::uint8_t>(r, c) = static_cast<std::uint8_t>(r * 7 + c * c * 3);
    }
    const std::string png = grey_png(picture.data, width, height, picture.step);
    const cv::Mat back = cv::imdecode(std::vector<std::uint8_t>(png.begin(), png.end()), cv::IMREAD_UNCHANGED);
    ASSERT_EQ(back.type(), CV_8UC1);
    ASSERT_EQ(back.size(), picture.size());
    EXPECT_EQ(cv::norm(back, picture, cv::NORM_INF), 0.0);
  }
}

}  // namespace
}  // namespace rollwright::video
