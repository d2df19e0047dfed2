#include "neck/instrument.hpp"

#include <charconv>
#include <optional>

namespace landfall::neck {
namespace {

using Status = std::optional<TextError>;
constexpr std::string_view blanks = " \t\r";

std::string_view trimmed(std::string_view text) {
  const auto first = text.find_first_not_of(blanks);
  if (first == std::string_view::npos)
    return {};
  return text.substr(first, text.find_last_not_of(blanks) - first + 1);
}

Status out_of_range(int low, int high) {
  return TextError{"expected a number from " + std::to_string(low) + " to " + std::to_string(high)};
}

Status read_number(std::string_view text, int low, int high, int& value) {
  const auto [end, status] = std::from_chars(text.data(), text.data() + text.size(), value);
  if (status != std::errc{} || end != text.data() + text.size() || value < low || value > high)
    return out_of_range(low, high);
  return std::nullopt;
}

/// Calls `read(word, index)` for each word; columns of errors count from the text's start.
template <typename Read> Status each_word(std::string_view text, Read read) {
  int index = 0;
  for (auto at = text.find_first_not_of(blanks); at != std::string_view::npos; ++index) {
    const auto end = std::min(text.find_first_of(blanks, at), text.size());
    if (auto error = read(text.substr(at, end - at), index)) {
      error->column += static_cast<int>(at);
      return error;
    }
    at = text.find_first_not_of(blanks, end);
  }
  return std::nullopt;
}

/// Collects the lines of one file.
class Reader {
public:
  Result<Instrument> read(std::string_view text) {
    int line = 0;
    while (!text.empty()) {
      const auto end = std::min(text.find('\n'), text.size());
      ++line;
      if (auto error = read_line(text.substr(0, end))) {
        error->line = line;
        return *error;
      }
      text.remove_prefix(std::min(end + 1, text.size()));
    }
    if (auto error = finish()) {
      error->line = std::max(1, line);
      return *error;
    }
    return instrument_;
  }

private:
  Status read_line(std::string_view line) {
    const auto content = trimmed(line);
    if (content.empty() || content.front() == '#')
      return std::nullopt;
    const auto colon = line.find(':');
    const int start = static_cast<int>(content.data() - line.data()) + 1;
    if (colon == std::string_view::npos)
      return TextError{"expected a line of the form `name: value`", start};
    const auto name = trimmed(line.substr(0, colon));
    const auto value = trimmed(line.substr(colon + 1));
    if (value.empty())
      return TextError{"expected a value after the colon", static_cast<int>(colon) + 2};
    auto error = read_field(name, value);
    if (error && error->column > 0)
      error->column += static_cast<int>(value.data() - line.data());
    else if (error)
      error->column = start;
    return error;
  }

  /// Errors count their column from the value's start; 0 means the name itself.
  Status read_field(std::string_view name, std::string_view value) {
    if (name == "name")
      return read_name(value);
    if (name == "kind")
      return read_kind(value);
    if (name == "tuning")
      return read_tuning(value);
    if (name == "first frets")
      return read_first_frets(value);
    if (name == "range")
      return read_range(value);
    if (name == "left-handed")
      return read_handedness(value);
    if (name == "frets")
      return read_number(value, 1, max_frets, instrument_.frets);
    if (name == "capo")
      return read_number(value, 0, max_frets - 1, instrument_.capo);
    if (name == "hand")
      return read_optional(value, 1, 48, hand_);
    if (name == "reach")
      return read_optional(value, 0, 12, reach_);
    return TextError{"unknown name '" + std::string(name.substr(0, 40)) +
                         "': expected name, kind, tuning, frets, first frets, capo, left-handed, "
                         "hand, reach or range",
                     0};
  }

  Status read_optional(std::string_view value, int low, int high, std::optional<int>& number) {
    return read_number(value, low, high, number.emplace());
  }

  Status read_name(std::string_view value) {
    if (value.size() > 80)
      return TextError{"a name has at most 80 characters", 81};
    instrument_.name = value;
    return std::nullopt;
  }

  Status read_kind(std::string_view value) {
    if (value != "fretted" && value != "keyboard")
      return TextError{"expected fretted or keyboard"};
    instrument_.kind = value == "keyboard" ? Instrument::Kind::keyboard : Instrument::Kind::fretted;
    return std::nullopt;
  }

  Status read_tuning(std::string_view value) {
    const auto tuning = parse_tuning(value);
    if (!tuning)
      return tuning.error();
    instrument_ = retuned(std::move(instrument_), *tuning);
    return std::nullopt;
  }

  Status read_first_frets(std::string_view value) {
    first_frets_.clear();
    return each_word(value, [&](std::string_view word, int index) -> Status {
      if (index == max_strings)
        return TextError{"more than " + std::to_string(max_strings) + " numbers"};
      return read_number(word, 0, max_frets - 1, first_frets_.emplace_back());
    });
  }

  Status read_range(std::string_view value) {
    int count = 0;
    auto error = each_word(value, [&](std::string_view word, int index) -> Status {
      const auto note = theory::parse_midi_note(word);
      if (!note)
        return note.error();
      if (index > 1)
        return TextError{"expected the lowest and the highest key, as in A0 C8"};
      (index == 0 ? instrument_.lowest : instrument_.highest) = *note;
      count = index + 1;
      return std::nullopt;
    });
    if (!error && (count != 2 || instrument_.highest < instrument_.lowest))
      return TextError{"expected the lowest and the highest key, as in A0 C8"};
    return error;
  }

  Status read_handedness(std::string_view value) {
    if (value != "yes" && value != "no")
      return TextError{"expected yes or no"};
    instrument_.left_handed = value == "yes";
    return std::nullopt;
  }

  Status finish() {
    if (instrument_.name.empty())
      return TextError{"the instrument has no name: expected a line `name: ...`"};
    if (instrument_.kind == Instrument::Kind::keyboard)
      return finish_keyboard();
    if (instrument_.strings.empty())
      return TextError{
          "the instrument has no strings: expected a line `tuning: E2 A2 D3 G3 B3 E4`"};
    return finish_fretted();
  }

  Status finish_keyboard() {
    instrument_.frets = 0;
    instrument_.strings.clear();
    instrument_.hand = hand_.value_or(16);
    instrument_.reach = reach_.value_or(0);
    if (instrument_.highest - instrument_.lowest < instrument_.hand)
      return TextError{"the keyboard is narrower than the hand"};
    return std::nullopt;
  }

  Status finish_fretted() {
    instrument_.hand = hand_.value_or(4);
    instrument_.reach = reach_.value_or(1);
    if (!first_frets_.empty() && first_frets_.size() != instrument_.strings.size())
      return TextError{"expected as many first frets as strings"};
    for (std::size_t i = 0; i < first_frets_.size(); ++i)
      instrument_.strings[i].first_fret = first_frets_[i];
    for (const auto& string : instrument_.strings)
      if (string.first_fret >= instrument_.frets)
        return TextError{"a string begins beyond the last fret"};
    if (instrument_.capo + instrument_.hand > instrument_.frets)
      return TextError{"the neck beyond the capo is shorter than the hand is wide"};
    return std::nullopt;
  }

  Instrument instrument_;
  std::vector<int> first_frets_;
  std::optional<int> hand_, reach_;
};

} // namespace

Result<Instrument> parse_instrument(std::string_view text) {
  return Reader().read(text);
}

} // namespace landfall::neck
