#include "app/input_page.hpp"

#include "app/outputs.hpp"
#include "app/words.hpp"

#include <algorithm>
#include <array>
#include <charconv>
#include <cmath>

namespace landfall::app {
namespace {

constexpr std::string_view input_prefix = "input:", mode_change = "mode ", base_change = "base",
                           strings_change = "strings", bend_change = "bend";

constexpr std::array modes{midi::InputMode::one_channel, midi::InputMode::per_string,
                           midi::InputMode::mpe_lower, midi::InputMode::mpe_upper};
constexpr std::array bend_ranges{0, 1, 2, 7, 12, 24, 48}; ///< 0: as the input says.

/// The next of a row of values, round and round.
template <typename Row> int next_of(const Row& row, int now) {
  const auto found = std::find(row.begin(), row.end(), now);
  return found == row.end() || std::next(found) == row.end() ? row.front() : *std::next(found);
}

std::string latency_words(const midi::InputSetup& setup) {
  if (!setup.latency)
    return "not measured yet";
  const std::chrono::duration<double, std::milli> ms = *setup.latency;
  return std::to_string(std::lround(ms.count())) + " ms";
}

class Rows {
public:
  Rows(ChoiceList& list, const InputInfo& input, const midi::InputSetup& setup,
       const std::optional<ModeProposal>& proposal)
      : list_(list), setup_(setup),
        prefix_(std::string(input_prefix) + std::to_string(input.number) + ":") {
    list_.items.push_back({"How " + short_name(input.name) + " is read", "", "", {}, false});
    for (const auto mode : modes) {
      const bool proposed =
          proposal && proposal->port == input.name && proposal->setup.mode == mode;
      add(capital(std::string(midi::mode_name(mode))), proposed ? "it looks like this" : "",
          std::string(mode_change) + std::string(midi::mode_name(mode)), mode == setup.mode);
    }
    if (setup.mode == midi::InputMode::per_string)
      strings();
    add("Bend range",
        setup.bend_semitones
            ? std::to_string(*setup.bend_semitones) + " half steps"
            : "as the input says, else " + std::to_string(midi::usual_bend_semitones(setup.mode)) +
                  " half steps",
        std::string(bend_change), false);
    list_.items.push_back({"Latency", latency_words(setup), "calibrate", {}, false});
  }

private:
  void strings() {
    add("String 1 is on channel", std::to_string(setup_.base_channel + 1), std::string(base_change),
        false);
    add("Strings", std::to_string(setup_.strings), std::string(strings_change), false);
  }

  void add(const std::string& text, const std::string& detail, const std::string& change,
           bool chosen) {
    list_.items.push_back({text, detail, prefix_ + change, {}, chosen});
  }

  ChoiceList& list_;
  const midi::InputSetup& setup_;
  std::string prefix_;
};

/// A mode that the messages speak for comes with the channels that they speak for.
midi::InputSetup in_mode(midi::InputSetup setup, midi::InputMode mode, const std::string& port,
                         const std::optional<ModeProposal>& proposal) {
  if (proposal && proposal->port == port && proposal->setup.mode == mode)
    return proposal->setup;
  setup.mode = mode;
  return setup;
}

} // namespace

std::string mode_words(const midi::InputSetup& setup) {
  std::string words(midi::mode_name(setup.mode));
  if (setup.mode == midi::InputMode::per_string)
    words += ", string 1 on channel " + std::to_string(setup.base_channel + 1);
  return words;
}

std::string proposal_words(const ModeProposal& proposal) {
  return short_name(proposal.port) + " seems to send " + mode_words(proposal.setup) +
         ": say so on the page of ports";
}

void add_input_rows(ChoiceList& list, const std::vector<InputInfo>& open, const Settings& settings,
                    const std::vector<midi::PortInfo>& ports,
                    const std::optional<ModeProposal>& proposal) {
  list.items.push_back({"MIDI clock", "", "", {}, false});
  list.items.push_back({"Sent to the output",
                        "start, stop and song position with it",
                        "send-clock",
                        {},
                        settings.sends_clock});
  const auto clock = [&](const std::string& value, const std::string& text) {
    list.items.push_back({text, "", "clock:" + value, {}, settings.clock == value});
  };
  clock("", "No clock is followed");
  clock("virtual", "Follow what comes to a port of our own");
  for (const auto& port : ports)
    clock(port.name, "Follow " + port.name);
  list.items.push_back({"The teacher plays", "", "", {}, false});
  const auto teacher = [&](const std::string& value, const std::string& text) {
    list.items.push_back({text, "", "teacher:" + value, {}, settings.teacher == value});
  };
  teacher("none", "Nothing");
  teacher("virtual", "A port of our own");
  for (const auto& port : ports)
    teacher(port.name, port.name);
  if (settings.teacher != "none")
    list.items.push_back(
        {"The teacher's instrument",
         settings.teacher_instrument.empty() ? "as yours" : settings.teacher_instrument,
         "teacher-instrument",
         {},
         false});
  for (const auto& input : open)
    if (input.role != InputRole::controls)
      Rows(list, input, setup_of(settings.inputs, input.name), proposal);
}

std::optional<std::pair<std::string, midi::InputSetup>>
changed_input(const std::string& value, const std::vector<InputInfo>& open,
              const InputSetups& setups, const std::optional<ModeProposal>& proposal) {
  if (!value.starts_with(input_prefix))
    return std::nullopt;
  int number = -1;
  const char* end = value.data() + value.size();
  const auto read = std::from_chars(value.data() + input_prefix.size(), end, number);
  const auto input = std::find_if(open.begin(), open.end(),
                                  [&](const auto& info) { return info.number == number; });
  if (read.ec != std::errc{} || read.ptr == end || input == open.end())
    return std::nullopt;
  const std::string_view change(read.ptr + 1, static_cast<std::size_t>(end - read.ptr - 1));
  auto setup = setup_of(setups, input->name);
  if (change.starts_with(mode_change)) {
    const auto mode = midi::mode_of(change.substr(mode_change.size()));
    if (!mode)
      return std::nullopt;
    setup = in_mode(setup, *mode, input->name, proposal);
  } else if (change == base_change) {
    setup.base_channel = (setup.base_channel + 1) % midi::channel_count;
  } else if (change == strings_change) {
    constexpr int fewest = 4;
    setup.strings =
        setup.strings >= int{midi::InputSetup::most_strings} ? fewest : setup.strings + 1;
  } else if (change == bend_change) {
    const int next = next_of(bend_ranges, setup.bend_semitones.value_or(0));
    setup.bend_semitones = next == 0 ? std::nullopt : std::optional(next);
  } else {
    return std::nullopt;
  }
  return std::pair(input->name, setup);
}

} // namespace landfall::app
