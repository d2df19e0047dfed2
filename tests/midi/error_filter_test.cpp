#include "midi/error_filter.hpp"

#include <doctest/doctest.h>

#include <ostream>
#include <sstream>

using landfall::midi::ErrorFilter;

namespace {

/// What comes through, with the stream flushed after each part, as standard error is.
template <typename Write> std::string passed(Write write) {
  std::stringbuf out;
  ErrorFilter filter(&out);
  std::ostream stream(&filter);
  stream << std::unitbuf;
  write(stream);
  return out.str();
}

void warn(std::ostream& err) {
  const std::string text = "MidiInJack::initialize: JACK server not running?";
  err << '\n' << text << "\n\n"; // as RtMidi 5 does
}

} // namespace

TEST_CASE("our own lines come through at once and whole") {
  CHECK(passed([](std::ostream& err) { err << "landfall: " << 5 << " ports" << '\n'; }) ==
        "landfall: 5 ports\n");
  CHECK(passed([](std::ostream& err) { err << "no break yet"; }) == "no break yet");
  CHECK(passed([](std::ostream& err) { err << "one\n" << '\n' << "two\n"; }) == "one\n\ntwo\n");
}

TEST_CASE("a warning of RtMidi does not, with the empty lines around it") {
  CHECK(passed(warn).empty());
  CHECK(passed([](std::ostream& err) {
          err << "before\n";
          warn(err);
          warn(err);
          err << "after" << '\n';
        }) == "before\nafter\n");
}

TEST_CASE("what only looks like one comes through") {
  CHECK(passed([](std::ostream& err) { err << "MidiIn is a word\n"; }) == "MidiIn is a word\n");
  CHECK(passed([](std::ostream& err) {
          err << "line "
              << "MidiInJack::\n";
        }) == "line MidiInJack::\n");
}
