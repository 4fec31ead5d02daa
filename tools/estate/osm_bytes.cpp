#include "estate/osm_bytes.h"

#include <bzlib.h>
#include <unistd.h>
#include <zlib.h>

#include <cstdio>
#include <stdexcept>
#include <utility>

namespace withy {

struct OsmBytes::Unpacker {
  Unpacker() = default;
  virtual ~Unpacker() = default;
  Unpacker(const Unpacker&) = delete;
  Unpacker& operator=(const Unpacker&) = delete;
  // At most `size` bytes; none at the end.
  virtual size_t read(char* to, unsigned size) = 0;
};

namespace {

constexpr unsigned chunk = 1 << 20;

[[noreturn]] void refuse(const char* why) {
  throw std::runtime_error(why);
}

class Gzip final : public OsmBytes::Unpacker {
 public:
  explicit Gzip(int descriptor) : file_(gzdopen(descriptor, "rb")) {
    if (!file_) {
      ::close(descriptor);
      refuse("cannot be unpacked");
    }
    gzbuffer(file_, chunk / 4);
  }
  ~Gzip() override { gzclose_r(file_); }
  Gzip(const Gzip&) = delete;
  Gzip& operator=(const Gzip&) = delete;
  size_t read(char* to, unsigned size) override {
    const int got = gzread(file_, to, size);
    int error = Z_OK;
    gzerror(file_, &error);
    if (error == Z_BUF_ERROR) refuse("gzip data are cut short");
    if (got < 0 || error != Z_OK) refuse("gzip data are damaged");
    return static_cast<size_t>(got);
  }

 private:
  gzFile file_;
};

class Bzip2 final : public OsmBytes::Unpacker {
 public:
  explicit Bzip2(int descriptor) : file_(fdopen(descriptor, "rb")) {
    if (!file_) {
      ::close(descriptor);
      refuse("cannot be unpacked");
    }
    open();
  }
  ~Bzip2() override {
    close();
    std::fclose(file_);
  }
  Bzip2(const Bzip2&) = delete;
  Bzip2& operator=(const Bzip2&) = delete;
  size_t read(char* to, unsigned size) override {
    while (stream_) {
      int error = BZ_OK;
      const int got = BZ2_bzRead(&error, stream_, to, static_cast<int>(size));
      if (error == BZ_STREAM_END) next();
      if (error == BZ_UNEXPECTED_EOF) refuse("bzip2 data are cut short");
      if (error != BZ_OK && error != BZ_STREAM_END) refuse("bzip2 data are damaged");
      if (got > 0) return static_cast<size_t>(got);
    }
    return 0;
  }

 private:
  void open() {
    int error = BZ_OK;
    stream_ = BZ2_bzReadOpen(&error, file_, 0, 0, unused_.data(), static_cast<int>(unused_.size()));
    if (error != BZ_OK) refuse("bzip2 data cannot be opened");
  }
  void close() {
    int error = BZ_OK;
    if (stream_) BZ2_bzReadClose(&error, stream_);
    stream_ = nullptr;
  }
  // The stream behind this one, if any.
  void next() {
    int error = BZ_OK, size = 0;
    void* bytes = nullptr;
    BZ2_bzReadGetUnused(&error, stream_, &bytes, &size);
    std::string unused;
    if (error == BZ_OK && size > 0) unused.assign(static_cast<const char*>(bytes), static_cast<size_t>(size));
    unused_ = std::move(unused);
    close();
    const int byte = unused_.empty() ? std::fgetc(file_) : EOF;
    if (byte != EOF) std::ungetc(byte, file_);
    if (!unused_.empty() || byte != EOF) open();
  }

  std::FILE* file_;
  BZFILE* stream_ = nullptr;
  std::string unused_;
};

std::unique_ptr<OsmBytes::Unpacker> unpacker(int descriptor, Packing packing) {
  if (packing == Packing::bzip2) return std::make_unique<Bzip2>(descriptor);
  return std::make_unique<Gzip>(descriptor);
}

}  // namespace

OsmBytes::OsmBytes(int descriptor, Packing packing) : unpacker_(unpacker(descriptor, packing)) {}
OsmBytes::~OsmBytes() = default;

std::string OsmBytes::read() {
  std::string bytes(chunk, '\0');
  while (!ended_) {
    const size_t got = unpacker_->read(bytes.data(), chunk);
    ended_ = got == 0;
    std::string out = ended_ ? mender_.rest() : mender_.mended(std::string_view(bytes).substr(0, got));
    if (!out.empty()) return out;
  }
  return {};
}

}  // namespace withy
