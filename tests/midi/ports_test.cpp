#include "midi/ports.hpp"

#include <doctest/doctest.h>

using namespace landfall::midi;

TEST_CASE("ALSA's numbers are cut off, and nothing else") {
  CHECK(without_alsa_numbers("Piano:Piano MIDI 1 20:0") == "Piano:Piano MIDI 1");
  CHECK(without_alsa_numbers("Midi Through:Port-0 14:12") == "Midi Through:Port-0");
  CHECK(without_alsa_numbers("system:midi_capture_1") == "system:midi_capture_1");
  CHECK(without_alsa_numbers("Keys 2") == "Keys 2");
  CHECK(without_alsa_numbers("Keys:2") == "Keys:2");
  CHECK(without_alsa_numbers("20:0") == "20:0");
  CHECK(without_alsa_numbers(":0").size() == 2);
  CHECK(without_alsa_numbers("").empty());
}

TEST_CASE("a port is found by part of its name, in any case; the closest match wins") {
  const std::vector<std::string> names{"My Big Keys", "KEYS mini", "keys", "Pedals"};
  CHECK(find_port(names, "Keys") == 2);
  CHECK(find_port(names, "keys m") == 1);
  CHECK(find_port(names, "big") == 0);
  CHECK(find_port(names, "KEY") == 1);
  CHECK(find_port(names, "edal") == 3);
  CHECK(find_port(names, "flute") == -1);
  CHECK(find_port(names, "") == -1);
  CHECK(find_port({}, "keys") == -1);
}

TEST_CASE("what appeared and what vanished") {
  const PortLists before{{{"a", "alsa"}}, {{"x", "alsa"}, {"y", "jack"}}};
  const PortLists after{{{"a", "alsa"}, {"b", "jack"}}, {{"y", "jack"}}};
  const auto changes = changes_between(before, after);
  CHECK(changes.any());
  CHECK(changes.appeared == PortLists{{{"b", "jack"}}, {}});
  CHECK(changes.vanished == PortLists{{}, {{"x", "alsa"}}});
  CHECK_FALSE(changes_between(after, after).any());
}
