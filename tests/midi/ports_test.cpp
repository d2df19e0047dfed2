#include "midi/ports.hpp"

#include <doctest/doctest.h>

#include <algorithm>

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

// The names below are as ALSA's sequencer and bridges of it to JACK give them. The sequencer itself
// isn't run: a machine without sound modules has none.
TEST_CASE("clients with colons, brackets and digits of their own; two of a kind") {
  CHECK(without_alsa_numbers("USB MIDI: Keys 2:USB MIDI: Keys 2 MIDI 1 28:0") ==
        "USB MIDI: Keys 2:USB MIDI: Keys 2 MIDI 1");
  CHECK(without_alsa_numbers("Synth 20:0:out 1 128:3") == "Synth 20:0:out 1");
  CHECK(without_alsa_numbers("Keys:Keys MIDI 1 20:") == "Keys:Keys MIDI 1 20:");
  CHECK(without_alsa_numbers("Keys:Keys MIDI 1 :0") == "Keys:Keys MIDI 1 :0");
  CHECK(without_alsa_numbers("Keys:Keys MIDI 1 20:0") ==
        without_alsa_numbers("Keys:Keys MIDI 1 24:0"));
  const std::vector<std::string> twins{"Keys:Keys MIDI 1", "Keys:Keys MIDI 1", "Keys:Keys MIDI 2"};
  CHECK(find_port(twins, "keys:keys midi 1") == 0);
  CHECK(find_port(twins, "MIDI 2") == 2);
}

TEST_CASE("the number of a client among others is cut off, and nothing else") {
  CHECK(without_client_number("a2j:Piano [20] (capture): Piano MIDI 1") ==
        "a2j:Piano (capture): Piano MIDI 1");
  CHECK(without_client_number("piano-01:out") == "piano:out");
  for (const auto* name :
       {"piano:out-01", "piano-01", "piano-1:out", "piano-001:out", "-01:out", "piano01:out",
        "Piano [] x", "Piano [a] x", "Piano [20 x", "Piano[20]", "", ":", " [", "-12:"}) {
    CAPTURE(std::string(name));
    CHECK(without_client_number(name) == name);
  }
}

TEST_CASE("a port that is back under another number is found; the very one goes before it") {
  CHECK(find_port({"Pedals:1", "keys-01:out"}, "keys:out") == 1);
  CHECK(find_port({"keys-01:out", "keys:out"}, "keys:out") == 1);
  CHECK(find_port({"keys:out"}, "keys-02:out") == 0);
  CHECK(find_port({"a2j:Piano [24] (capture): MIDI 1"}, "a2j:Piano [20] (capture): MIDI 1") == 0);
  CHECK(find_port({"keys-01:in"}, "keys:out") == -1);
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

#ifdef __linux__ // where RtMidi knows of JACK
TEST_CASE("a sound server that is silent keeps its ports; one that has gone does not") {
  const JackAnswer full{ServerState::present, {"keys:out"}, {{"keys:out"}, {"synth:in"}}, 1};
  std::vector<JackAnswer> answers{full, {ServerState::silent, {}, {}, 0}, full, {}, {}};
  std::vector<std::string> asked;
  PortWatcher watcher([&](const auto& ports) {
    asked = ports;
    const auto answer = answers.front();
    answers.erase(answers.begin());
    return answer;
  });
  const auto has_keys = [&] {
    const auto& inputs = watcher.ports().inputs;
    return std::find(inputs.begin(), inputs.end(), PortInfo{"keys:out", "jack"}) != inputs.end();
  };
  watcher.poll({"keys:out"});
  CHECK(asked == std::vector<std::string>{"keys:out"});
  CHECK(has_keys());
  CHECK(watcher.jack().loose == full.loose);
  CHECK_FALSE(watcher.poll().any());
  CHECK(has_keys());
  CHECK(watcher.jack().state == ServerState::silent);
  CHECK(watcher.jack().loose.empty());
  CHECK_FALSE(watcher.poll().any());
  const auto changes = watcher.poll(); // looks twice before it believes it
  CHECK(changes.vanished.inputs == std::vector<PortInfo>{{"keys:out", "jack"}});
  CHECK(changes.vanished.outputs == std::vector<PortInfo>{{"synth:in", "jack"}});
  CHECK(answers.empty());
}
#endif
