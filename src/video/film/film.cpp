#include "video/film/film.h"

#include <algorithm>
#include <cmath>
#include <cstring>
#include <stdexcept>
#include <string>

#include <opencv2/imgproc.hpp>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/display.h>
#include <libavutil/imgutils.h>
#include <libavutil/pixdesc.h>
#include <libswscale/swscale.h>
}

namespace rollwright::video {
namespace {

// A film without a place on this machine (an upload kept in memory) is read whole; longer ones need a file.
constexpr std::uint64_t kLargestInMemory = 512ULL << 20;

struct Memory {
  std::string bytes;
  std::int64_t at = 0;
};

int read_memory(void* opaque, std::uint8_t* into, int size) {
  auto& m = *static_cast<Memory*>(opaque);
  const std::int64_t left = static_cast<std::int64_t>(m.bytes.size()) - m.at;
  if (left <= 0) return AVERROR_EOF;
  const int n = static_cast<int>(std::min<std::int64_t>(left, size));
  std::memcpy(into, m.bytes.data() + m.at, static_cast<std::size_t>(n));
  m.at += n;
  return n;
}

std::int64_t seek_memory(void* opaque, std::int64_t offset, int whence) {
  auto& m = *static_cast<Memory*>(opaque);
  const auto size = static_cast<std::int64_t>(m.bytes.size());
  if (whence == AVSEEK_SIZE) return size;
  std::int64_t to = offset;
  if (whence == SEEK_CUR) to += m.at;
  if (whence == SEEK_END) to += size;
  if (to < 0 || to > size) return AVERROR(EINVAL);
  return m.at = to;
}

std::string words(int error) {
  char text[AV_ERROR_MAX_STRING_SIZE] = {};
  av_strerror(error, text, sizeof text);
  return text;
}

// Formats whose first plane is the 8-bit brightness.
bool has_plain_brightness(int format) {
  switch (format) {
    case AV_PIX_FMT_YUV420P: case AV_PIX_FMT_YUVJ420P: case AV_PIX_FMT_YUV422P: case AV_PIX_FMT_YUVJ422P:
    case AV_PIX_FMT_YUV444P: case AV_PIX_FMT_YUVJ444P: case AV_PIX_FMT_NV12: case AV_PIX_FMT_NV21: case AV_PIX_FMT_GRAY8:
      return true;
    default:
      return false;
  }
}

}  // namespace

struct Film::State {
  Memory memory;
  AVIOContext* io = nullptr;
  AVFormatContext* format = nullptr;
  AVCodecContext* codec = nullptr;
  AVPacket* packet = nullptr;
  AVFrame* frame = nullptr;
  SwsContext* scaler = nullptr;
  int stream = -1;
  std::int64_t next_index = 0;
  double time_base = 0.0;
  double first_time = 0.0;
  bool has_first_time = false;
  bool is_draining = false;
  bool is_jumped = false;
  double last_time = -1.0;
  cv::Mat converted, turned;
  FilmFacts facts;

  ~State() {
    sws_freeContext(scaler);
    av_frame_free(&frame);
    av_packet_free(&packet);
    avcodec_free_context(&codec);
    avformat_close_input(&format);
    if (io) {
      av_freep(&io->buffer);
      avio_context_free(&io);
    }
  }
};

Film::Film(std::unique_ptr<State> state) : state_(std::move(state)) {}
Film::~Film() = default;
const FilmFacts& Film::facts() const { return state_->facts; }

base::Outcome<std::unique_ptr<Film>> Film::open(const base::ByteSource& source) {
  using base::input_problem;
  const std::string& name = source.name();
  av_log_set_level(AV_LOG_QUIET);  // a library does not print
  auto state = std::make_unique<State>();
  State& s = *state;
  s.format = avformat_alloc_context();
  s.format->max_streams = 64;

  const std::string path = source.local_path();
  if (path.empty()) {
    try {
      s.memory.bytes = base::read_all(source, kLargestInMemory);
    } catch (const std::exception&) {
      return base::fail(base::Problem{base::ProblemKind::environment, "film_not_readable", name,
                                      "The film could not be read into memory.", "up to 512 MB unless it lies in a file",
                                      "Give the film as a file, or cut it to the runs."});
    }
    constexpr int kBuffer = 1 << 16;
    s.io = avio_alloc_context(static_cast<unsigned char*>(av_malloc(kBuffer)), kBuffer, 0, &s.memory, read_memory, nullptr,
                              seek_memory);
    s.format->pb = s.io;
  }
  // "file:" keeps a colon in a path from being taken for a protocol.
  int error = avformat_open_input(&s.format, path.empty() ? nullptr : ("file:" + path).c_str(), nullptr, nullptr);
  if (error == AVERROR(ENOENT) || error == AVERROR(EACCES) || error == AVERROR(EIO)) {
    return base::fail(base::Problem{base::ProblemKind::environment, "film_not_readable", name,
                                    "The film could not be opened: " + words(error) + ".", {}, "Check the name and the rights."});
  }
  if (error < 0) {
    return base::fail(input_problem("not_a_film", name, "This file is not a film that can be read, or its index is missing (" +
                                    words(error) + ").", "H.264 or HEVC in MP4 or MOV, as phones write it",
                                    "A recording that was cut off while being written has no index: copy it again from the phone."));
  }
  error = avformat_find_stream_info(s.format, nullptr);
  const AVCodec* decoder = nullptr;
  s.stream = error < 0 ? error : av_find_best_stream(s.format, AVMEDIA_TYPE_VIDEO, -1, -1, &decoder, 0);
  if (s.stream == AVERROR_DECODER_NOT_FOUND) {
    return base::fail(input_problem("unknown_coding", name, "The picture's coding is not known to this program.",
                                    "H.264 or HEVC", "Record in the phone's 'most compatible' format."));
  }
  if (s.stream < 0) {
    return base::fail(input_problem("no_video_stream", name, "There is no picture in this file, only other data.",
                                    "a film with a video stream", "Is it a sound recording?"));
  }
  const AVStream* stream = s.format->streams[s.stream];
  const AVCodecParameters* par = stream->codecpar;
  if (par->width <= 0 || par->height <= 0 || par->width > kLargestSide || par->height > kLargestSide ||
      static_cast<std::int64_t>(par->width) * par->height > kLargestPicture) {
    return base::fail(input_problem("picture_size", name,
                                    "The picture is " + std::to_string(par->width) + " × " + std::to_string(par->height) + " px.",
                                    "1 to 8192 px a side and at most 8192 × 4608", "Record at 1080p."));
  }
  s.codec = avcodec_alloc_context3(decoder);
  avcodec_parameters_to_context(s.codec, par);
  s.codec->max_pixels = kLargestPicture;
  s.codec->thread_count = 2;
  error = avcodec_open2(s.codec, decoder, nullptr);
  if (error < 0) {
    return base::fail(input_problem("unknown_coding", name, "The film's decoder does not start: " + words(error) + ".",
                                    "H.264 or HEVC"));
  }
  s.packet = av_packet_alloc();
  s.frame = av_frame_alloc();
  for (unsigned i = 0; i < s.format->nb_streams; ++i) {
    if (static_cast<int>(i) != s.stream) s.format->streams[i]->discard = AVDISCARD_ALL;
  }
  s.time_base = av_q2d(stream->time_base);

  FilmFacts& f = s.facts;
  f.coding = avcodec_get_name(par->codec_id);
  f.frames_promised = stream->nb_frames;
  if (stream->avg_frame_rate.num > 0 && stream->avg_frame_rate.den > 0) f.nominal_frame_rate = av_q2d(stream->avg_frame_rate);
  if (stream->duration > 0) {
    f.duration = base::Duration(static_cast<double>(stream->duration) * s.time_base);
  } else if (s.format->duration > 0) {
    f.duration = base::Duration(static_cast<double>(s.format->duration) / AV_TIME_BASE);
  }
  const std::uint8_t* matrix = av_stream_get_side_data(stream, AV_PKT_DATA_DISPLAYMATRIX, nullptr);
  if (matrix) {
    const double turn = av_display_rotation_get(reinterpret_cast<const std::int32_t*>(matrix));
    if (std::isfinite(turn)) f.rotation_deg = ((static_cast<int>(std::lround(-turn / 90.0)) * 90) % 360 + 360) % 360;
  }
  f.width = par->width;
  f.height = par->height;
  if (f.rotation_deg % 180 != 0) std::swap(f.width, f.height);
  return std::unique_ptr<Film>(new Film(std::move(state)));
}

bool Film::next(Frame& out) {
  State& s = *state_;
  for (int failures = 0; failures < 1000;) {
    const int got = avcodec_receive_frame(s.codec, s.frame);
    if (got == 0) break;
    if (got == AVERROR_EOF) {
      if (!s.is_jumped && s.facts.frames_promised > s.next_index) s.facts.is_cut_short = true;
      return false;
    }
    if (got != AVERROR(EAGAIN)) {
      ++failures;
      s.facts.is_cut_short = true;
      if (failures >= 1000) return false;
      continue;
    }
    if (s.is_draining) return false;
    const int read = av_read_frame(s.format, s.packet);
    if (read < 0) {
      if (read != AVERROR_EOF) s.facts.is_cut_short = true;
      s.is_draining = true;
      avcodec_send_packet(s.codec, nullptr);
      continue;
    }
    if (s.packet->stream_index == s.stream && avcodec_send_packet(s.codec, s.packet) < 0) ++failures;
    av_packet_unref(s.packet);
  }
  if (s.frame->width <= 0 || s.frame->height <= 0) return false;

  out.index = s.is_jumped ? -1 : s.next_index;
  const std::int64_t stamp = s.frame->best_effort_timestamp;
  double time;
  if (stamp != AV_NOPTS_VALUE) {
    time = static_cast<double>(stamp) * s.time_base;
    if (!s.has_first_time) s.first_time = time;
    s.has_first_time = true;
    time -= s.first_time;
  } else {
    s.facts.has_time_stamps = false;
    time = static_cast<double>(s.next_index) / (s.facts.nominal_frame_rate > 0.0 ? s.facts.nominal_frame_rate : 30.0);
  }
  ++s.next_index;
  out.time = s.last_time = time;
  out.is_damaged = (s.frame->flags & AV_FRAME_FLAG_CORRUPT) != 0 || s.frame->decode_error_flags != 0;

  cv::Mat grey;
  if (has_plain_brightness(s.frame->format) && s.frame->linesize[0] > 0) {
    grey = cv::Mat(s.frame->height, s.frame->width, CV_8UC1, s.frame->data[0], static_cast<std::size_t>(s.frame->linesize[0]));
  } else {
    // Ten-bit and unusual formats are reduced to eight bits; the noise of a phone's picture is larger than the step lost.
    s.scaler = sws_getCachedContext(s.scaler, s.frame->width, s.frame->height, static_cast<AVPixelFormat>(s.frame->format),
                                    s.frame->width, s.frame->height, AV_PIX_FMT_GRAY8, SWS_POINT, nullptr, nullptr, nullptr);
    if (!s.scaler) return false;
    s.converted.create(s.frame->height, s.frame->width, CV_8UC1);
    std::uint8_t* planes[4] = {s.converted.data, nullptr, nullptr, nullptr};
    const int steps[4] = {static_cast<int>(s.converted.step), 0, 0, 0};
    sws_scale(s.scaler, s.frame->data, s.frame->linesize, 0, s.frame->height, planes, steps);
    grey = s.converted;
  }
  if (s.facts.rotation_deg != 0) {
    const int how = s.facts.rotation_deg == 90 ? cv::ROTATE_90_CLOCKWISE
                    : s.facts.rotation_deg == 180 ? cv::ROTATE_180 : cv::ROTATE_90_COUNTERCLOCKWISE;
    cv::rotate(grey, s.turned, how);
    grey = s.turned;
  }
  out.grey = grey;
  return true;
}

cv::Mat Film::colours(int most_width) {
  State& s = *state_;
  if (!s.frame || s.frame->width <= 0 || !s.frame->data[0]) return {};
  const bool is_on_its_side = s.facts.rotation_deg % 180 != 0;
  const int upright_width = is_on_its_side ? s.frame->height : s.frame->width;
  const double shrink = most_width > 0 && upright_width > most_width ? static_cast<double>(most_width) / upright_width : 1.0;
  const int width = std::max(2, static_cast<int>(std::lround(shrink * s.frame->width))), height = std::max(2, static_cast<int>(std::lround(shrink * s.frame->height)));
  SwsContext* scaler = sws_getContext(s.frame->width, s.frame->height, static_cast<AVPixelFormat>(s.frame->format), width, height, AV_PIX_FMT_BGR24,
                                      shrink < 1.0 ? SWS_AREA : SWS_BILINEAR, nullptr, nullptr, nullptr);
  if (!scaler) return {};
  cv::Mat picture(height, width, CV_8UC3);
  std::uint8_t* planes[4] = {picture.data, nullptr, nullptr, nullptr};
  const int steps[4] = {static_cast<int>(picture.step), 0, 0, 0};
  sws_scale(scaler, s.frame->data, s.frame->linesize, 0, s.frame->height, planes, steps);
  sws_freeContext(scaler);
  if (s.facts.rotation_deg == 0) return picture;
  cv::Mat turned;
  cv::rotate(picture, turned, s.facts.rotation_deg == 90 ? cv::ROTATE_90_CLOCKWISE : s.facts.rotation_deg == 180 ? cv::ROTATE_180 : cv::ROTATE_90_COUNTERCLOCKWISE);
  return turned;
}

bool Film::jump_before(double time) {
  State& s = *state_;
  const auto stamp = static_cast<std::int64_t>(std::floor((time + s.first_time) / s.time_base));
  if (av_seek_frame(s.format, s.stream, stamp, AVSEEK_FLAG_BACKWARD) < 0) return false;
  avcodec_flush_buffers(s.codec);
  s.is_draining = false;
  s.is_jumped = true;
  return true;
}

}  // namespace rollwright::video
