#include "midi/message.hpp"
#include "midi/smf.hpp"

#include <algorithm>

namespace landfall::midi::smf {
namespace {

/// Thrown inside this file only.
struct Failure {
  ReadError error;
};

/// Bytes from `at` to `end`, taken one after the other.
class Cursor {
public:
  Cursor(std::span<const std::uint8_t> bytes, std::size_t at, std::size_t end)
      : bytes_(bytes), at_(at), end_(end) {}

  bool at_end() const { return at_ == end_; }
  std::size_t position() const { return at_; }
  std::size_t rest() const { return end_ - at_; }

  [[noreturn]] void fail(std::string reason) const { throw Failure{{std::move(reason), at_}}; }

  std::uint8_t peek() const {
    if (at_end())
      fail("the file is cut short");
    return bytes_[at_];
  }
  std::uint8_t byte() {
    const auto value = peek();
    ++at_;
    return value;
  }
  std::uint32_t number(int count) {
    std::uint32_t value = 0;
    for (int i = 0; i < count; ++i)
      value = (value << 8) | byte();
    return value;
  }
  std::uint32_t length() {
    std::uint32_t value = 0;
    for (int i = 0; i < 4; ++i) {
      const auto next = byte();
      value = (value << 7) | (next & 0x7FU);
      if (next < 0x80)
        return value;
    }
    fail("a number longer than four bytes");
  }
  std::span<const std::uint8_t> take(std::size_t count) {
    if (count > rest())
      fail("the file is cut short");
    const auto taken = bytes_.subspan(at_, count);
    at_ += count;
    return taken;
  }
  bool take_tag(const char (&tag)[5]) {
    const auto found = take(4);
    return std::equal(found.begin(), found.end(), tag);
  }

private:
  std::span<const std::uint8_t> bytes_;
  std::size_t at_;
  std::size_t end_;
};

struct Header {
  std::uint32_t tracks = 0;
  std::uint32_t division = 0;
};

Header read_header(Cursor& in) {
  if (in.rest() < 14 || !in.take_tag("MThd"))
    throw Failure{{"not a MIDI file: it does not begin with MThd", 0}};
  const auto length = in.number(4);
  if (length < 6 || length > in.rest())
    in.fail("a header of " + std::to_string(length) + " bytes, expected 6");
  Cursor body = in;
  in.take(length);
  const auto type = body.number(2);
  if (type > 1)
    body.fail("a MIDI file of type " + std::to_string(type) + ", expected 0 or 1");
  Header header;
  header.tracks = body.number(2);
  header.division = body.number(2);
  if (header.division == 0 || header.division >= 0x8000)
    body.fail("time in film frames, expected ticks to the quarter note");
  return header;
}

class TrackReader {
public:
  TrackReader(Cursor in, std::uint32_t division, std::size_t& events)
      : in_(in), division_(division), events_(events) {}

  Track read() {
    while (!in_.at_end() && !ended_) {
      time_ += in_.length();
      if (now() > time_limit)
        in_.fail("a time too far from the start");
      read_event();
    }
    track_.end = now();
    return std::move(track_);
  }

private:
  Ticks now() const { return {(time_ * ticks_per_quarter + division_ / 2) / division_}; }

  void read_event() {
    const auto next = in_.peek();
    if (next == 0xFF)
      read_meta();
    else if (next == 0xF0 || next == 0xF7)
      skip_exclusive();
    else
      read_message(next);
  }

  void skip_exclusive() {
    in_.byte();
    in_.take(in_.length());
  }

  void read_message(std::uint8_t next) {
    if (next >= 0xF0)
      in_.fail("a system message that files do not have");
    if (next >= 0x80)
      status_ = in_.byte();
    else if (status_ == 0)
      in_.fail("a data byte without a status before it");
    ShortMessage message{{status_, 0, 0}, static_cast<std::uint8_t>(message_size(status_))};
    for (std::size_t i = 1; i < message.size; ++i) {
      if (in_.peek() >= 0x80)
        in_.fail("a status byte in the middle of a message");
      message.bytes[i] = in_.byte();
    }
    add(message);
  }

  void read_meta() {
    in_.byte();
    const auto kind = in_.byte();
    const auto length = in_.length();
    const auto data = in_.take(length);
    if (kind >= 1 && kind <= 7)
      add(Text{static_cast<TextKind>(kind), std::string(data.begin(), data.end())});
    else if (kind == 0x2F)
      ended_ = true;
    else if (kind == 0x51)
      add(tempo(expect(data, 3, "tempo")));
    else if (kind == 0x58)
      add(metre(expect(data, 4, "metre")));
    else if (kind == 0x59)
      add(key(expect(data, 2, "key signature")));
  }

  std::span<const std::uint8_t> expect(std::span<const std::uint8_t> data, std::size_t size,
                                       const char* what) const {
    if (data.size() != size)
      in_.fail(std::string("a ") + what + " of " + std::to_string(data.size()) +
               " bytes, expected " + std::to_string(size));
    return data;
  }

  Tempo tempo(std::span<const std::uint8_t> data) const {
    const Tempo value{(data[0] << 16) | (data[1] << 8) | data[2]};
    if (value.micros_per_quarter == 0)
      in_.fail("a tempo of nothing");
    return value;
  }

  Metre metre(std::span<const std::uint8_t> data) const {
    if (data[0] == 0 || data[1] > 6)
      in_.fail("a metre of " + std::to_string(data[0]) + " over 2 to the power of " +
               std::to_string(data[1]));
    return {data[0], 1 << data[1]};
  }

  KeySignature key(std::span<const std::uint8_t> data) const {
    const int sharps = static_cast<std::int8_t>(data[0]);
    if (sharps < -7 || sharps > 7 || data[1] > 1)
      in_.fail("a key signature of " + std::to_string(sharps) + " sharps");
    return {sharps, data[1] == 1};
  }

  void add(Content content) {
    if (++events_ > event_limit)
      in_.fail("more than " + std::to_string(event_limit) + " events");
    track_.events.push_back({now(), std::move(content)});
  }

  Cursor in_;
  std::uint32_t division_;
  std::size_t& events_; ///< Of the whole file.
  std::int64_t time_ = 0;
  std::uint8_t status_ = 0;
  bool ended_ = false;
  Track track_;
};

File read_file(std::span<const std::uint8_t> bytes) {
  Cursor in(bytes, 0, bytes.size());
  const auto header = read_header(in);
  File file;
  std::size_t events = 0;
  while (file.tracks.size() < header.tracks) {
    if (in.at_end())
      in.fail("the file has " + std::to_string(file.tracks.size()) + " tracks, expected " +
              std::to_string(header.tracks));
    const bool is_track = in.take_tag("MTrk");
    const auto length = in.number(4);
    const auto begin = in.position();
    in.take(length);
    if (is_track)
      file.tracks.push_back(
          TrackReader(Cursor(bytes, begin, begin + length), header.division, events).read());
  }
  return file;
}

} // namespace

Result<File, ReadError> read(std::span<const std::uint8_t> bytes) {
  try {
    return read_file(bytes);
  } catch (const Failure& failure) {
    return failure.error;
  }
}

} // namespace landfall::midi::smf
