#include "app/parts_page.hpp"

#include "app/outputs.hpp"
#include "midi/general_midi.hpp"
#include "midi/message.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::string_view prefix = "part:";
constexpr int octave = 12;

std::string titled(Voice voice) {
  switch (voice) {
  case Voice::drums:
    return "Drums and click";
  case Voice::bass:
    return "Bass";
  case Voice::comping:
    return "Comping";
  case Voice::lead:
    return "What you play";
  case Voice::teacher:
    return "What the teacher plays";
  case Voice::call:
    break;
  }
  return "Calls";
}

VoiceRoute route_in(const VoiceRoutes& routes, Voice voice) {
  const auto found = routes.find(voice);
  return found == routes.end() ? VoiceRoute{} : found->second;
}

/// Adds rows of one part.
class Rows {
public:
  Rows(ChoiceList& list, Voice voice)
      : list_(list), start_(std::string(prefix) + std::string(voice_name(voice)) + ":") {}

  void heading(const std::string& text) { list_.items.push_back({text, "", "", {}, false}); }
  void row(const std::string& text, const std::string& what, const std::string& value,
           bool chosen) {
    list_.items.push_back({text, "", start_ + what + "=" + value, {}, chosen});
  }

private:
  ChoiceList& list_;
  std::string start_;
};

constexpr int bank_steps = 128; ///< A bank goes out as two controllers of 7 bits.

/// A bank is chosen in two steps, as it is sent and as receivers' tables name it.
void add_bank_rows(Rows& rows, const std::optional<int>& bank) {
  rows.heading("Bank");
  rows.row("None is sent", "bank", "", !bank);
  const auto add = [&](const char* controller, const std::string& what, int chosen) {
    rows.heading(controller);
    for (int step = 0; step < bank_steps; ++step)
      rows.row("Bank, " + what + " " + std::to_string(step), "bank-" + what, std::to_string(step),
               bank && chosen == step);
  };
  add("Bank, controller 0", "coarse", bank.value_or(0) / bank_steps);
  add("Bank, controller 32", "fine", bank.value_or(0) % bank_steps);
}

std::string transposed_words(int half_steps) {
  if (half_steps % octave != 0)
    return "transposed by " + std::to_string(half_steps);
  const int octaves = std::abs(half_steps) / octave;
  const std::string count = octaves == 1 ? "an octave" : std::to_string(octaves) + " octaves";
  return count + (half_steps > 0 ? " higher" : " lower");
}

} // namespace

std::string route_words(const VoiceRoute& route) {
  std::string words;
  const auto add = [&](const std::string& text) { words += (words.empty() ? "" : " · ") + text; };
  if (route.channel)
    add("channel " + std::to_string(*route.channel + 1));
  if (route.program && *route.program < 0)
    add("its own sound");
  else if (route.program)
    add(std::string(midi::program_name(*route.program)));
  if (route.bank)
    add("bank " + std::to_string(*route.bank));
  if (route.transpose != 0)
    add(transposed_words(route.transpose));
  if (!route.port.empty())
    add("by " + (route.port == "virtual" ? std::string("our port") : short_name(route.port)));
  return words.empty() ? "as usual" : words;
}

void add_part_rows(ChoiceList& list, const VoiceRoutes& routes) {
  list.items.push_back({"The parts", "", "", {}, false});
  for (const auto voice : all_voices)
    list.items.push_back({titled(voice),
                          route_words(route_in(routes, voice)),
                          std::string(prefix) + std::string(voice_name(voice)),
                          {},
                          false});
}

ChoiceList part_list(Voice voice, const VoiceRoutes& routes,
                     const std::vector<midi::PortInfo>& outputs) {
  const auto route = route_in(routes, voice);
  ChoiceList list;
  list.title = titled(voice);
  list.lines = {"Now " + route_words(route) + "."};
  list.has_query = true;
  Rows rows(list, voice);
  rows.heading("Output");
  rows.row("With the others", "port", "", route.port.empty());
  rows.row("A port of our own", "port", "virtual", route.port == "virtual");
  for (const auto& port : outputs)
    rows.row(port.name, "port", port.name, route.port == port.name);
  rows.heading("Octave");
  for (const int octaves : {-2, -1, 0, 1, 2})
    rows.row(octaves == 0 ? "As written" : transposed_words(octaves * octave), "transpose",
             std::to_string(octaves * octave), route.transpose == octaves * octave);
  rows.heading("Channel");
  rows.row("As usual, " + std::to_string(channel_of(voice) + 1), "channel", "", !route.channel);
  for (int channel = 0; channel < midi::channel_count; ++channel)
    rows.row("Channel " + std::to_string(channel + 1), "channel", std::to_string(channel),
             route.channel == channel);
  rows.heading("Sound");
  rows.row("As usual", "program", "", !route.program);
  rows.row("The receiver's own", "program", std::to_string(midi::Route::untouched),
           route.program == midi::Route::untouched);
  for (int program = 0; program < midi::program_count; ++program)
    rows.row(std::to_string(program + 1) + " " + std::string(midi::program_name(program)),
             "program", std::to_string(program), route.program == program);
  add_bank_rows(rows, route.bank);
  list.selected = 1;
  return list;
}

std::optional<Voice> voice_of(const std::string& value) {
  if (!value.starts_with(prefix))
    return std::nullopt;
  const auto name = value.substr(prefix.size(), value.find(':', prefix.size()) - prefix.size());
  for (const auto voice : all_voices)
    if (voice_name(voice) == name)
      return voice;
  return std::nullopt;
}

VoiceRoutes changed_routes(const std::string& value, VoiceRoutes routes) {
  const auto voice = voice_of(value);
  const auto what_at = value.find(':', prefix.size());
  const auto equals = what_at == std::string::npos ? what_at : value.find('=', what_at);
  if (!voice || equals == std::string::npos)
    return routes;
  const auto what = value.substr(what_at + 1, equals - what_at - 1), to = value.substr(equals + 1);
  const auto number = to.empty() ? std::nullopt : std::optional(std::atoi(to.c_str()));
  auto& route = routes[*voice];
  if (what == "port")
    route.port = to;
  else if (what == "channel")
    route.channel = number;
  else if (what == "program")
    route.program = number;
  else if (what == "bank")
    route.bank = number;
  else if (what == "bank-coarse")
    route.bank = number.value_or(0) * bank_steps + route.bank.value_or(0) % bank_steps;
  else if (what == "bank-fine")
    route.bank = route.bank.value_or(0) / bank_steps * bank_steps + number.value_or(0);
  else if (what == "transpose")
    route.transpose = number.value_or(0);
  if (route == VoiceRoute{})
    routes.erase(*voice);
  return routes;
}

} // namespace landfall::app
