#include "video/film/jpeg.h"

#include <memory>

#include <turbojpeg.h>

namespace rollwright::video {

std::string jpeg_of(const cv::Mat& picture, int quality) {
  const std::unique_ptr<void, int (*)(tjhandle)> writer(tjInitCompress(), &tjDestroy);
  if (!writer) return {};
  unsigned char* bytes = nullptr;
  unsigned long size = 0;
  const int failed = tjCompress2(writer.get(), picture.data, picture.cols, static_cast<int>(picture.step), picture.rows, TJPF_BGR, &bytes, &size,
                                 TJSAMP_420, quality, 0);
  const std::unique_ptr<unsigned char, void (*)(unsigned char*)> owned(bytes, &tjFree);
  return failed ? std::string() : std::string(reinterpret_cast<const char*>(bytes), size);
}

}  // namespace rollwright::video
