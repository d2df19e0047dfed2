#include "midi/control_file.hpp"

#include <algorithm>
#include <charconv>

namespace landfall::midi {
namespace {

constexpr std::string_view blanks = " \t";

/// A word or more, and where it begins in its line.
struct Piece {
  std::string_view text;
  int column = 1;
};

Piece trimmed(Piece piece) {
  const auto first = piece.text.find_first_not_of(blanks);
  if (first == std::string_view::npos)
    return {{}, piece.column};
  const auto last = piece.text.find_last_not_of(blanks);
  return {piece.text.substr(first, last - first + 1), piece.column + static_cast<int>(first)};
}

std::vector<Piece> words_of(Piece piece) {
  std::vector<Piece> words;
  for (piece = trimmed(piece); !piece.text.empty();) {
    const auto end = std::min(piece.text.find_first_of(blanks), piece.text.size());
    words.push_back({piece.text.substr(0, end), piece.column});
    piece = trimmed({piece.text.substr(end), piece.column + static_cast<int>(end)});
  }
  return words;
}

std::string quoted(std::string_view text) {
  return "'" + std::string(text.substr(0, 60)) + "'";
}

bool is_printable(std::string_view text) {
  return std::none_of(text.begin(), text.end(),
                      [](char c) { return static_cast<unsigned char>(c) < ' ' || c == '\x7f'; });
}

/// Reads the words before the colon.
class ControlWords {
public:
  ControlWords(std::vector<Piece> words, int line, int end)
      : words_(std::move(words)), line_(line), end_(end) {}

  Result<Binding> read() {
    Binding binding;
    if (const auto error = read_control(binding))
      return *error;
    if (is("channel"))
      if (const auto error = read_number("channel", 1, channel_count, binding.control.channel))
        return *error;
    read_way(binding);
    read_press(binding);
    if (at_ < words_.size())
      return wrong("there is no " + quoted(words_[at_].text) + " here");
    if (const auto reason = impossible(binding); !reason.empty())
      return TextError{reason, words_.front().column, line_};
    return binding;
  }

private:
  bool is(std::string_view word) {
    if (at_ >= words_.size() || words_[at_].text != word)
      return false;
    ++at_;
    return true;
  }

  TextError wrong(std::string reason) const {
    return {std::move(reason), at_ < words_.size() ? words_[at_].column : end_, line_};
  }

  /// Into `value`, counted from `low`.
  std::optional<TextError> read_number(const char* what, int low, int high,
                                       std::optional<int>& value) {
    const std::string range = std::string(what) + " needs a number from " + std::to_string(low) +
                              " to " + std::to_string(high);
    if (at_ >= words_.size())
      return wrong(range);
    const auto text = words_[at_].text;
    int number = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), number);
    if (read.ec != std::errc{} || read.ptr != text.data() + text.size() || number < low ||
        number > high)
      return wrong(range + ", not " + quoted(text));
    ++at_;
    value = number - (low == 1 ? 1 : 0);
    return std::nullopt;
  }

  std::optional<TextError> read_control(Binding& binding) {
    auto& control = binding.control;
    std::optional<int> number = 0;
    std::optional<TextError> error;
    if (is("note")) {
      control.kind = ControlKind::note;
      error = read_number("note", 0, note_count - 1, number);
    } else if (is("controller")) {
      error = read_number("controller", 0, note_count - 1, number);
    } else if (is("program")) {
      control.kind = ControlKind::program;
      error = read_number("program", 1, note_count, number);
    } else if (is("wheel")) {
      control.kind = ControlKind::wheel;
      number = is("up") ? 1 : (is("down") ? -1 : 0);
      binding.way = number == 0 ? ControlWay::absolute : ControlWay::momentary;
    } else {
      return wrong("a line begins with note, controller, program, wheel, device, hold or again, "
                   "not " +
                   quoted(words_[at_].text));
    }
    control.number = number.value_or(0);
    return error;
  }

  void read_way(Binding& binding) {
    if (is("latching"))
      binding.way = ControlWay::latching;
    else if (is("absolute"))
      binding.way = ControlWay::absolute;
    else if (is("relative"))
      binding.way = is("offset")   ? ControlWay::relative_offset
                    : is("signed") ? ControlWay::relative_signed
                                   : ControlWay::relative;
  }

  void read_press(Binding& binding) {
    if (is("long"))
      binding.press = Press::long_press;
    else if (is("double"))
      binding.press = Press::twice;
  }

  static std::string impossible(const Binding& binding) {
    const bool controller = binding.control.kind == ControlKind::controller;
    const bool turns = binding.way != ControlWay::momentary && binding.way != ControlWay::latching;
    const bool whole_wheel =
        binding.control.kind == ControlKind::wheel && binding.control.number == 0;
    if (whole_wheel ? binding.way != ControlWay::absolute
                    : !controller && binding.way != ControlWay::momentary)
      return "only a controller moves " + std::string(way_word(binding.way));
    if (turns && binding.press != Press::once)
      return "only a switch, pad or key has long and double presses";
    if (binding.press == Press::long_press &&
        (binding.way == ControlWay::latching || binding.control.kind == ControlKind::program))
      return "a long press needs a control that says when it is let go";
    return "";
  }

  std::vector<Piece> words_;
  int line_;
  int end_;
  std::size_t at_ = 0;
};

class FileReader {
public:
  explicit FileReader(std::span<const ControlAction> actions) : actions_(actions) {}

  Result<ControlMap> read(std::string_view text) {
    if (text.starts_with("\xEF\xBB\xBF"))
      text.remove_prefix(3);
    for (line_ = 1; !text.empty(); ++line_) {
      const auto end = std::min(text.find('\n'), text.size());
      auto line = text.substr(0, end);
      text.remove_prefix(std::min(end + 1, text.size()));
      if (line.ends_with('\r'))
        line.remove_suffix(1);
      if (const auto error = take(line))
        return *error;
    }
    return std::move(map_);
  }

private:
  TextError at(const Piece& piece, std::string reason) const {
    return {std::move(reason), piece.column, line_};
  }

  std::optional<TextError> take(std::string_view line) {
    if (line.size() > most_line)
      return TextError{"the line is longer than " + std::to_string(most_line) + " bytes",
                       static_cast<int>(most_line) + 1, line_};
    const auto whole = trimmed({line, 1});
    if (whole.text.empty() || whole.text.front() == '#')
      return std::nullopt;
    if (!is_printable(whole.text))
      return at(whole, "there are signs in this line that can't be read");
    const auto colon = line.find(':');
    if (colon == std::string_view::npos)
      return at(whole, "expected a control, a colon and an action");
    const auto name = trimmed({line.substr(0, colon), 1});
    const auto value = trimmed({line.substr(colon + 1), static_cast<int>(colon) + 2});
    if (name.text.empty())
      return at(name, "expected a control before the colon");
    if (value.text.empty())
      return at(value, "nothing stands behind the colon");
    return take(name, value, static_cast<int>(colon) + 1);
  }

  std::optional<TextError> take(const Piece& name, const Piece& value, int colon) {
    if (name.text == "device") {
      device_ = value.text;
      return std::nullopt;
    }
    if (name.text == "hold")
      return read_time(value, map_.times.hold);
    if (name.text == "again")
      return read_time(value, map_.times.again);
    auto binding = ControlWords(words_of(name), line_, colon).read();
    if (!binding)
      return binding.error();
    binding->device = device_;
    binding->action = value.text;
    return add(*binding, name, value);
  }

  std::optional<TextError> read_time(const Piece& value, std::chrono::milliseconds& time) const {
    int number = 0;
    const auto* end = value.text.data() + value.text.size();
    const auto read = std::from_chars(value.text.data(), end, number);
    const auto rest = trimmed({{read.ptr, static_cast<std::size_t>(end - read.ptr)}, 1});
    if (read.ec != std::errc{} || rest.text != "ms" || number < 50 || number > 5000)
      return at(value, "expected a time from 50 ms to 5000 ms");
    time = std::chrono::milliseconds(number);
    return std::nullopt;
  }

  std::optional<TextError> add(const Binding& binding, const Piece& name, const Piece& value) {
    const auto action = std::find_if(actions_.begin(), actions_.end(), [&](const auto& known) {
      return known.name == binding.action;
    });
    if (action == actions_.end())
      return at(value, "there is no action " + quoted(binding.action));
    if (const auto reason = misfit(binding, *action); !reason.empty())
      return at(value, reason);
    for (const auto& other : map_.bindings)
      if (const auto reason = conflict(other, binding); !reason.empty())
        return at(name, reason);
    if (map_.bindings.size() >= most_bindings)
      return at(name, "there are more than " + std::to_string(most_bindings) + " bindings");
    map_.bindings.push_back(binding);
    return std::nullopt;
  }

  std::span<const ControlAction> actions_;
  ControlMap map_;
  std::string device_;
  int line_ = 1;
};

std::string line_of(const Binding& binding) {
  auto text = words(binding.control);
  const bool wheel = binding.control.kind == ControlKind::wheel;
  if (!wheel && !way_word(binding.way).empty())
    text += " " + std::string(way_word(binding.way));
  return text + std::string(press_word(binding.press)) + ": " + binding.action + "\n";
}

} // namespace

Result<ControlMap> parse_controls(std::string_view text, std::span<const ControlAction> actions) {
  return FileReader(actions).read(text);
}

std::string controls_text(const ControlMap& map) {
  auto sorted = map.bindings;
  std::stable_sort(sorted.begin(), sorted.end(), [](const auto& a, const auto& b) {
    return a.device < b.device; // those of every device first: nothing takes a device back
  });
  std::string text = "hold: " + std::to_string(map.times.hold.count()) +
                     " ms\nagain: " + std::to_string(map.times.again.count()) + " ms\n";
  std::string device;
  for (const auto& binding : sorted) {
    if (binding.device != device)
      text += "\ndevice: " + binding.device + "\n";
    device = binding.device;
    text += line_of(binding);
  }
  return text;
}

} // namespace landfall::midi
