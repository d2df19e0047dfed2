#pragma once

#include <streambuf>
#include <string>
#include <string_view>

namespace landfall::midi {

/// Passes on what is written, but for RtMidi's warnings: an empty line, one that begins with the
/// name of its class (`MidiInJack::`), and another empty line. RtMidi has no other way to be silent
/// while a port is made, and the player is told of what it means. As safe with threads as what it
/// passes on to, as far as each writes whole lines.
class ErrorFilter final : public std::streambuf {
public:
  explicit ErrorFilter(std::streambuf* out) : out_(out) {}

protected:
  std::streamsize xsputn(const char* text, std::streamsize count) override;
  int overflow(int character) override;
  int sync() override;

private:
  void take(std::string_view text);

  std::streambuf* out_;
  std::string held_;     ///< Empty lines that may belong to a warning.
  bool at_start_ = true; ///< Of a line.
  bool after_warning_ = false;
};

} // namespace landfall::midi
