#include "app/part_routes.hpp"
#include "theory/named_lines.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr int most_transposed = 48;
constexpr int banks = 1 << 14;

std::string names_of_voices() {
  std::string names;
  for (const auto voice : all_voices)
    names += (names.empty() ? "" : ", ") + std::string(voice_name(voice));
  return names;
}

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(' ');
  const auto last = text.find_last_not_of(' ');
  return first == std::string_view::npos ? "" : text.substr(first, last - first + 1);
}

/// One setting of a line: `channel 3`.
struct Item {
  std::string_view word, value;
  int column = 1; ///< Of the value.
};

Item item_of(const NamedField& field, std::string_view text) {
  const auto whole = trimmed(text);
  const auto space = std::min(whole.find(' '), whole.size());
  Item item{whole.substr(0, space), trimmed(whole.substr(space)), 1};
  const auto* at = item.value.empty() ? whole.data() : item.value.data();
  item.column = field.value_column + static_cast<int>(at - field.value.data());
  return item;
}

std::optional<TextError> read_number(const Item& item, int line, int low, int high, int& value) {
  const auto number =
      whole_number(NamedField{item.word, item.value, line, item.column, item.column}, low, high);
  if (!number)
    return number.error();
  value = *number;
  return std::nullopt;
}

std::optional<TextError> read_item(const Item& item, int line, VoiceRoute& route) {
  int value = 0;
  std::optional<TextError> error;
  if (item.word == "channel") {
    error = read_number(item, line, 1, midi::channel_count, value);
    route.channel = value - 1;
  } else if (item.word == "bank") {
    error = read_number(item, line, 0, banks - 1, value);
    route.bank = value;
  } else if (item.word == "program" && item.value == "none") {
    route.program = midi::Route::untouched;
  } else if (item.word == "program") {
    error = read_number(item, line, 1, 128, value);
    route.program = value - 1;
  } else if (item.word == "transpose") {
    error = read_number(item, line, -most_transposed, most_transposed, route.transpose);
  } else {
    return TextError{"expected channel, bank, program, transpose or port, not '" +
                         std::string(item.word) + "'",
                     item.column, line};
  }
  return error;
}

std::optional<TextError> read_items(const NamedField& field, VoiceRoute& route) {
  auto rest = field.value;
  for (;;) {
    const auto comma = rest.find(',');
    const auto item = item_of(field, rest.substr(0, comma));
    if (item.word == "port") {
      route.port = trimmed(trimmed(rest).substr(4));
      if (route.port.empty())
        return field.bad_value("expected the name of a port");
      return std::nullopt;
    }
    if (auto error = read_item(item, field.line, route))
      return error;
    if (comma == std::string_view::npos)
      return std::nullopt;
    rest.remove_prefix(comma + 1);
  }
}

} // namespace

std::string_view voice_name(Voice voice) {
  constexpr std::array<std::string_view, all_voices.size()> names{"drums", "bass",    "comping",
                                                                  "lead",  "teacher", "call"};
  return names[static_cast<std::size_t>(voice)];
}

std::string as_text(Voice voice, const VoiceRoute& route) {
  std::string text;
  const auto add = [&](const std::string& word, const std::string& value) {
    text += (text.empty() ? " " : ", ") + word + " " + value;
  };
  if (route.channel)
    add("channel", std::to_string(*route.channel + 1));
  if (route.bank)
    add("bank", std::to_string(*route.bank));
  if (route.program)
    add("program", *route.program < 0 ? "none" : std::to_string(*route.program + 1));
  if (route.transpose != 0)
    add("transpose", std::to_string(route.transpose));
  if (!route.port.empty())
    add("port", route.port);
  return std::string(voice_name(voice)) + ":" + text;
}

Result<std::pair<Voice, VoiceRoute>> read_voice_route(std::string_view text) {
  std::optional<std::pair<Voice, VoiceRoute>> read;
  const auto error =
      read_named_lines(text, [&](const NamedField& field) -> std::optional<TextError> {
        if (read)
          return field.bad_name("expected one part only");
        for (const auto voice : all_voices)
          if (field.name == voice_name(voice))
            read.emplace(voice, VoiceRoute{});
        if (!read)
          return field.bad_name("expected one of " + names_of_voices());
        return field.value.empty() ? std::nullopt : read_items(field, read->second);
      });
  if (error)
    return *error;
  if (!read)
    return TextError{"expected a part, as in 'bass: channel 3'"};
  return *std::move(read);
}

} // namespace landfall::app
