#include "practice/command_text.hpp"

#include <charconv>

namespace landfall::practice {
namespace {

std::string number(double value) {
  std::array<char, 40> text{};
  const auto end = std::to_chars(text.data(), text.data() + text.size(), value).ptr;
  return {text.data(), end};
}

template <typename... Numbers> std::string numbers(Numbers... values) {
  std::string text;
  ((text += (text.empty() ? "" : " ") + std::to_string(values)), ...);
  return text;
}

/// Line breaks would end the line.
std::string one_line(std::string text) {
  for (char& c : text)
    if (c == '\n' || c == '\r')
      c = ' ';
  return text;
}

const char* name_of(theory::NoteSet::Kind kind) {
  return kind == theory::NoteSet::Kind::arpeggio  ? "arpeggio"
         : kind == theory::NoteSet::Kind::fitting ? "fitting"
                                                  : "fixed";
}

struct Writer {
  std::string operator()(const SetKey& command) const { return "key " + ascii(command.key); }
  std::string operator()(const SetPlace& command) const {
    std::string text = "place";
    if (command.place.shape)
      text += std::string(" shape ") + *command.place.shape;
    if (command.place.position)
      text += " fret " + std::to_string(*command.place.position);
    return text;
  }
  std::string operator()(const SetNotes& command) const {
    std::string text = "set over ";
    text += command.over == theory::Over::key ? "key " : "chord ";
    text += name_of(command.set.kind);
    text += " degrees";
    for (const auto degree : command.set.degrees)
      text += " " + ascii(degree);
    return text + " name " + one_line(command.set.name);
  }
  std::string operator()(const SetTarget& command) const {
    return "target " + target_text(command.target);
  }
  std::string operator()(const SetTempo& command) const {
    return "tempo " + numbers(command.tempo.micros_per_quarter);
  }
  std::string operator()(const SetFeel& command) const {
    return command.feel.empty() ? "feel" : "feel " + one_line(command.feel);
  }
  std::string operator()(const SetLoop& command) const {
    return command.loop ? "loop " + numbers(command.loop->first, command.loop->last) : "loop";
  }
  std::string operator()(const SetMuted& command) const {
    return "mute " + numbers(static_cast<int>(command.part), command.muted ? 1 : 0);
  }
  std::string operator()(const SetIntensity& command) const {
    return "intensity " + number(command.intensity);
  }
  std::string operator()(const SetKeyMoves& command) const {
    auto text = "key-moves " + numbers(command.moves.every, command.moves.half_steps);
    for (const auto key : command.moves.keys)
      text += " " + ascii(key);
    return text;
  }
  std::string operator()(const SetTempoMoves& command) const {
    return "tempo-moves " + numbers(command.moves.from.micros_per_quarter,
                                    command.moves.to.micros_per_quarter, command.moves.choruses);
  }
  std::string operator()(const MoveTempo& command) const {
    return "tempo-step " + numbers(command.tempo.micros_per_quarter);
  }
  std::string operator()(const SetArrangement& command) const {
    const auto& a = command.arrangement;
    return "arrangement " + numbers(static_cast<int>(a.click), a.drop_outs.bars, a.drop_outs.of,
                                    a.drop_outs.click ? 1 : 0, a.drone ? 1 : 0, a.humanised ? 1 : 0,
                                    a.level[0], a.level[1], a.level[2], a.level[3]);
  }
  std::string operator()(const SetCountIn& command) const {
    return "count-in " + numbers(command.bars);
  }
  std::string operator()(const End&) const { return "end"; }
};

/// Takes words off a line, one after the other.
class Reader {
public:
  explicit Reader(std::string_view line) : line_(line), rest_(line) { skip_blanks(); }

  Result<Command> read() {
    const auto name = word();
    const auto command = read_as(name);
    if (!command || !ok_ || !rest_.empty())
      return TextError{"expected a command of a take, not '" + std::string(line_.substr(0, 60)) +
                           "'",
                       static_cast<int>(line_.size() - rest_.size()) + 1};
    return *command;
  }

private:
  std::optional<Command> read_as(std::string_view name) {
    if (name == "key")
      return SetKey{key()};
    if (name == "place")
      return place();
    if (name == "set")
      return set();
    if (name == "target")
      return target();
    if (name == "tempo")
      return SetTempo{tempo()};
    if (name == "feel")
      return SetFeel{std::string(remainder())};
    if (name == "loop")
      return loop();
    if (name == "mute")
      return mute();
    if (name == "intensity")
      return SetIntensity{real()};
    return read_move(name);
  }

  std::optional<Command> read_move(std::string_view name) {
    if (name == "key-moves")
      return key_moves();
    if (name == "tempo-moves") {
      const auto from = tempo(), to = tempo();
      return SetTempoMoves{{from, to, whole(0, 10000)}};
    }
    if (name == "tempo-step")
      return MoveTempo{tempo()};
    if (name == "arrangement")
      return arrangement();
    if (name == "count-in")
      return SetCountIn{whole(0, 64)};
    if (name == "end")
      return End{};
    return std::nullopt;
  }

  void skip_blanks() {
    while (!rest_.empty() && rest_.front() == ' ')
      rest_.remove_prefix(1);
  }

  std::string_view word() {
    const auto word = rest_.substr(0, rest_.find(' '));
    rest_.remove_prefix(word.size());
    skip_blanks();
    return word;
  }

  std::string_view remainder() { return std::exchange(rest_, {}); }

  /// Whether the next word is `name`, which is then taken.
  bool took(std::string_view name) {
    if (rest_.substr(0, rest_.find(' ')) != name)
      return false;
    return word(), true;
  }

  std::int64_t integer(std::int64_t low, std::int64_t high) {
    const auto text = word();
    std::int64_t value = 0;
    const auto [end, status] = std::from_chars(text.data(), text.data() + text.size(), value);
    const bool good =
        status == std::errc{} && end == text.data() + text.size() && value >= low && value <= high;
    ok_ = ok_ && good;
    return good ? value : low;
  }

  int whole(int low, int high) { return static_cast<int>(integer(low, high)); }
  bool flag() { return whole(0, 1) == 1; }
  Tempo tempo() { return {integer(100'000, 4'000'000)}; }

  double real() {
    const auto text = word();
    double value = 0.0;
    const auto [end, status] = std::from_chars(text.data(), text.data() + text.size(), value);
    ok_ = ok_ && status == std::errc{} && end == text.data() + text.size() && value >= 0.0 &&
          value <= 1.0;
    return ok_ ? value : 0.0;
  }

  theory::Key key() {
    const auto read = theory::parse_key(word());
    ok_ = ok_ && read;
    return read ? *read : theory::Key{};
  }

  Command place() {
    SetPlace command;
    if (took("shape")) {
      const auto name = word();
      ok_ =
          ok_ && name.size() == 1 && std::string_view("CAGED").find(name) != std::string_view::npos;
      if (ok_)
        command.place.shape = name.front();
    }
    if (took("fret"))
      command.place.position = whole(0, 127);
    return command;
  }

  Command set() {
    SetNotes command;
    ok_ = ok_ && took("over");
    command.over = took("key") ? theory::Over::key : theory::Over::chord;
    if (command.over == theory::Over::chord)
      ok_ = took("chord") && ok_;
    using Kind = theory::NoteSet::Kind;
    command.set.kind = took("arpeggio")  ? Kind::arpeggio
                       : took("fitting") ? Kind::fitting
                                         : Kind::fixed;
    if (command.set.kind == Kind::fixed)
      ok_ = took("fixed") && ok_;
    ok_ = took("degrees") && ok_;
    while (ok_ && !rest_.empty() && !took("name")) {
      const auto degree = theory::parse_degree(word());
      ok_ = ok_ && degree;
      if (degree)
        command.set.degrees.push_back(*degree);
    }
    command.set.name = remainder();
    ok_ = ok_ && command.set.degrees.size() <= 12 &&
          (command.set.kind != Kind::fixed || !command.set.degrees.empty());
    return command;
  }

  Command target() {
    const auto read = neck::parse_target(remainder());
    ok_ = ok_ && read;
    return SetTarget{read ? *read : neck::Target{}};
  }

  Command loop() {
    if (rest_.empty())
      return SetLoop{};
    const int first = whole(1, 100'000);
    return SetLoop{BarRange{first, whole(1, 100'000)}};
  }

  Command mute() {
    const auto part = static_cast<band::Part>(whole(0, band::all_parts.size() - 1));
    return SetMuted{part, flag()};
  }

  Command key_moves() {
    SetKeyMoves command;
    command.moves.every = whole(0, 10'000);
    command.moves.half_steps = whole(-127, 127);
    while (ok_ && !rest_.empty() && command.moves.keys.size() < 48)
      command.moves.keys.push_back(key());
    return command;
  }

  Command arrangement() {
    SetArrangement command;
    auto& a = command.arrangement;
    a.click = static_cast<Click>(whole(0, 2));
    a.drop_outs.bars = whole(0, 1000);
    a.drop_outs.of = whole(1, 1000);
    a.drop_outs.click = flag();
    a.drone = flag();
    a.humanised = flag();
    for (auto& level : a.level)
      level = whole(0, 1000);
    return command;
  }

  std::string_view line_, rest_;
  bool ok_ = true;
};

} // namespace

std::string command_text(const Command& command) {
  return std::visit(Writer{}, command);
}

Result<Command> read_command(std::string_view line) {
  return Reader(line).read();
}

std::vector<Command> commands_for(const Choice& choice) {
  std::vector<Command> commands{SetKey{choice.key},
                                SetPlace{choice.place},
                                SetNotes{choice.set, choice.over},
                                SetTarget{choice.target},
                                SetTempo{choice.tempo},
                                SetFeel{choice.feel},
                                SetLoop{choice.loop},
                                SetIntensity{choice.intensity},
                                SetArrangement{choice.arrangement},
                                SetCountIn{choice.count_in_bars}};
  for (const auto part : band::all_parts)
    commands.emplace_back(SetMuted{part, choice.muted[static_cast<std::size_t>(part)]});
  if (choice.key_moves.every > 0)
    commands.emplace_back(SetKeyMoves{choice.key_moves});
  if (choice.tempo_moves.choruses > 0) {
    commands.emplace_back(SetTempoMoves{choice.tempo_moves});
    commands.emplace_back(MoveTempo{choice.tempo});
  }
  return commands;
}

} // namespace landfall::practice
