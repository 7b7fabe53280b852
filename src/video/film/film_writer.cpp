#include "video/film/film_writer.h"

#include <cmath>
#include <cstring>
#include <utility>

extern "C" {
#include <libavcodec/avcodec.h>
#include <libavformat/avformat.h>
#include <libavutil/display.h>
#include <libavutil/opt.h>
#include <libswscale/swscale.h>
}

namespace rollwright::video {
namespace {

constexpr int kTicks = 90000;  // a second, as is usual in MP4

struct Memory {
  std::string bytes;
  std::size_t at = 0;
};

// FFmpeg 7 takes a pointer to const; 5 does not. Both are callable with this.
int write_memory(void* opaque, std::uint8_t* from, int size) {
  auto& m = *static_cast<Memory*>(opaque);
  const auto n = static_cast<std::size_t>(size);
  if (m.at + n > m.bytes.size()) m.bytes.resize(m.at + n);
  std::memcpy(m.bytes.data() + m.at, from, n);
  m.at += n;
  return size;
}

std::int64_t seek_memory(void* opaque, std::int64_t offset, int whence) {
  auto& m = *static_cast<Memory*>(opaque);
  const auto size = static_cast<std::int64_t>(m.bytes.size());
  if (whence == AVSEEK_SIZE) return size;
  std::int64_t to = offset;
  if (whence == SEEK_CUR) to += static_cast<std::int64_t>(m.at);
  if (whence == SEEK_END) to += size;
  if (to < 0) return AVERROR(EINVAL);
  m.at = static_cast<std::size_t>(to);
  return to;
}

}  // namespace

struct FilmWriter::State {
  Memory memory;
  AVIOContext* io = nullptr;
  AVFormatContext* format = nullptr;
  AVCodecContext* codec = nullptr;
  AVStream* stream = nullptr;
  AVFrame* frame = nullptr;
  AVPacket* packet = nullptr;
  SwsContext* scaler = nullptr;
  std::int64_t last = -1;
  bool has_failed = false;

  ~State() {
    sws_freeContext(scaler);
    av_frame_free(&frame);
    av_packet_free(&packet);
    avcodec_free_context(&codec);
    if (format) avformat_free_context(format);
    if (io) {
      av_freep(&io->buffer);
      avio_context_free(&io);
    }
  }

  bool drain() {
    for (;;) {
      const int got = avcodec_receive_packet(codec, packet);
      if (got == AVERROR(EAGAIN) || got == AVERROR_EOF) return true;
      if (got < 0) return false;
      av_packet_rescale_ts(packet, codec->time_base, stream->time_base);
      packet->stream_index = stream->index;
      if (av_interleaved_write_frame(format, packet) < 0) return false;
    }
  }
};

FilmWriter::FilmWriter(std::unique_ptr<State> state) : state_(std::move(state)) {}
FilmWriter::~FilmWriter() = default;

base::Outcome<std::unique_ptr<FilmWriter>> FilmWriter::start(int width, int height, const FilmFormat& format) {
  const auto none = [](const std::string& what) {
    return base::fail(base::Problem{base::ProblemKind::environment, "no_encoder", "", "Film cannot be written here: " + what + ".", {},
                                    "Install the machine's usual video encoders (libx264, libx265)."});
  };
  av_log_set_level(AV_LOG_QUIET);
  const AVCodec* encoder = avcodec_find_encoder_by_name(format.coding == "hevc" ? "libx265" : "libx264");
  if (!encoder) encoder = avcodec_find_encoder(format.coding == "hevc" ? AV_CODEC_ID_HEVC : AV_CODEC_ID_H264);
  if (!encoder) return none("there is no encoder for " + format.coding);
  auto state = std::make_unique<State>();
  State& s = *state;
  if (avformat_alloc_output_context2(&s.format, nullptr, "mp4", nullptr) < 0) return none("there is no MP4 writer");
  constexpr int kBuffer = 1 << 16;
  s.io = avio_alloc_context(static_cast<unsigned char*>(av_malloc(kBuffer)), kBuffer, 1, &s.memory, nullptr, write_memory, seek_memory);
  s.format->pb = s.io;
  s.stream = avformat_new_stream(s.format, nullptr);
  s.codec = avcodec_alloc_context3(encoder);
  s.codec->width = width;
  s.codec->height = height;
  s.codec->time_base = {1, kTicks};
  s.codec->framerate = {static_cast<int>(std::lround(format.nominal_rate * 1000)), 1000};
  s.codec->pix_fmt = format.is_ten_bit ? AV_PIX_FMT_YUV420P10LE : AV_PIX_FMT_YUV420P;
  s.codec->gop_size = static_cast<int>(std::lround(format.nominal_rate));  // phones write a whole picture about once a second
  s.codec->thread_count = 2;
  if (s.format->oformat->flags & AVFMT_GLOBALHEADER) s.codec->flags |= AV_CODEC_FLAG_GLOBAL_HEADER;
  av_opt_set(s.codec->priv_data, "preset", format.coding == "hevc" ? "ultrafast" : "veryfast", 0);
  av_opt_set(s.codec->priv_data, "crf", std::to_string(format.quality).c_str(), 0);
  if (format.coding == "hevc") {
    s.codec->codec_tag = MKTAG('h', 'v', 'c', '1');
    av_opt_set(s.codec->priv_data, "x265-params", "log-level=none:pools=none:frame-threads=1", 0);
  }
  if (avcodec_open2(s.codec, encoder, nullptr) < 0) return none("the encoder for " + format.coding + (format.is_ten_bit ? " of ten bits" : "") + " does not start");
  avcodec_parameters_from_context(s.stream->codecpar, s.codec);
  s.stream->time_base = s.codec->time_base;
  s.stream->avg_frame_rate = s.codec->framerate;
  if (format.rotation_deg != 0) {
    auto* matrix = reinterpret_cast<std::int32_t*>(av_stream_new_side_data(s.stream, AV_PKT_DATA_DISPLAYMATRIX, 9 * sizeof(std::int32_t)));
    if (matrix) av_display_rotation_set(matrix, format.rotation_deg);
  }
  if (avformat_write_header(s.format, nullptr) < 0) return none("the file cannot be begun");
  s.frame = av_frame_alloc();
  s.frame->format = s.codec->pix_fmt;
  s.frame->width = width;
  s.frame->height = height;
  if (av_frame_get_buffer(s.frame, 0) < 0) return none("there is no memory");
  s.packet = av_packet_alloc();
  return std::unique_ptr<FilmWriter>(new FilmWriter(std::move(state)));
}

bool FilmWriter::add(const cv::Mat& picture, double time) {
  State& s = *state_;
  const auto stamp = static_cast<std::int64_t>(std::llround(time * kTicks));
  if (s.has_failed || picture.cols != s.codec->width || picture.rows != s.codec->height || stamp <= s.last) return false;
  const AVPixelFormat from = picture.channels() == 3 ? AV_PIX_FMT_BGR24 : AV_PIX_FMT_GRAY8;
  s.scaler = sws_getCachedContext(s.scaler, picture.cols, picture.rows, from, picture.cols, picture.rows, s.codec->pix_fmt, SWS_POINT, nullptr, nullptr, nullptr);
  if (!s.scaler || av_frame_make_writable(s.frame) < 0) return !(s.has_failed = true);
  const std::uint8_t* planes[4] = {picture.data, nullptr, nullptr, nullptr};
  const int steps[4] = {static_cast<int>(picture.step), 0, 0, 0};
  sws_scale(s.scaler, planes, steps, 0, picture.rows, s.frame->data, s.frame->linesize);
  s.frame->pts = s.last = stamp;
  if (avcodec_send_frame(s.codec, s.frame) < 0 || !s.drain()) s.has_failed = true;
  return !s.has_failed;
}

std::string FilmWriter::finish() {
  State& s = *state_;
  if (s.has_failed || avcodec_send_frame(s.codec, nullptr) < 0 || !s.drain() || av_write_trailer(s.format) < 0) return {};
  avio_flush(s.io);
  return std::move(s.memory.bytes);
}

}  // namespace rollwright::video
