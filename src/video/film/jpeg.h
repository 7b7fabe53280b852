// A colour picture as a JPEG file.
#pragma once

#include <string>

#include <opencv2/core.hpp>

namespace rollwright::video {

// `picture` has three bytes a point, blue first, and at least one point; `quality` is 1 to 100. The file's bytes; empty where
// the library refuses, for example a side of more than 65,535 points.
std::string jpeg_of(const cv::Mat& picture, int quality);

}  // namespace rollwright::video
