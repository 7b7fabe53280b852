#include "video/film/jpeg.h"

#include <memory>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libswscale/swscale.h>
}

namespace rollwright::video {

std::string jpeg_of(const cv::Mat& picture, int coarseness) {
  const AVCodec* encoder = avcodec_find_encoder(AV_CODEC_ID_MJPEG);
  if (!encoder || picture.empty()) return {};
  const auto free_codec = [](AVCodecContext* c) { avcodec_free_context(&c); };
  const auto free_frame = [](AVFrame* f) { av_frame_free(&f); };
  const auto free_packet = [](AVPacket* p) { av_packet_free(&p); };
  const std::unique_ptr<AVCodecContext, decltype(free_codec)> codec(avcodec_alloc_context3(encoder), free_codec);
  const std::unique_ptr<AVFrame, decltype(free_frame)> frame(av_frame_alloc(), free_frame);
  const std::unique_ptr<AVPacket, decltype(free_packet)> packet(av_packet_alloc(), free_packet);
  codec->width = frame->width = picture.cols;
  codec->height = frame->height = picture.rows;
  codec->pix_fmt = AV_PIX_FMT_YUVJ420P;
  codec->color_range = AVCOL_RANGE_JPEG;
  codec->time_base = {1, 25};
  codec->thread_count = 1;
  codec->flags |= AV_CODEC_FLAG_QSCALE;
  codec->global_quality = FF_QP2LAMBDA * coarseness;
  if (avcodec_open2(codec.get(), encoder, nullptr) < 0) return {};
  frame->format = codec->pix_fmt;
  frame->quality = codec->global_quality;
  frame->pts = 0;
  if (av_frame_get_buffer(frame.get(), 0) < 0) return {};
  const AVPixelFormat from = picture.channels() == 3 ? AV_PIX_FMT_BGR24 : AV_PIX_FMT_GRAY8;
  SwsContext* scaler = sws_getContext(picture.cols, picture.rows, from, picture.cols, picture.rows, codec->pix_fmt, SWS_BILINEAR, nullptr, nullptr, nullptr);
  if (!scaler) return {};
  const std::uint8_t* planes[4] = {picture.data, nullptr, nullptr, nullptr};
  const int steps[4] = {static_cast<int>(picture.step), 0, 0, 0};
  sws_scale(scaler, planes, steps, 0, picture.rows, frame->data, frame->linesize);
  sws_freeContext(scaler);
  if (avcodec_send_frame(codec.get(), frame.get()) < 0 || avcodec_receive_packet(codec.get(), packet.get()) < 0) return {};
  return {reinterpret_cast<const char*>(packet->data), static_cast<std::size_t>(packet->size)};
}

}  // namespace rollwright::video
