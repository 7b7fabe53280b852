// A picture as JPEG, by FFmpeg's own encoder: OpenCV's brings the libraries of every other format with it.
#pragma once

#include <string>

#include <opencv2/core.hpp>

namespace rollwright::video {

// `picture`: 8 bit grey or BGR. `coarseness`: quantiser from 2 (best) to 31. Empty when there is no such encoder.
std::string jpeg_of(const cv::Mat& picture, int coarseness = 3);

}  // namespace rollwright::video
