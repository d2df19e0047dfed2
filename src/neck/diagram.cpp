#include "neck/text.hpp"
#include "neck/wording.hpp"

#include <algorithm>

namespace landfall::neck {
namespace {

constexpr std::size_t cell_width = 7;
constexpr std::size_t line_width = 80;

std::size_t at(int index) {
  return static_cast<std::size_t>(index);
}

/// What is written on each note.
struct Labels {
  LabelKind kind;
  theory::Key key;
  Position hand;

  std::string of(const NeckNote& note) const {
    const auto text = label(note, kind, key, hand);
    return text.empty() ? "*" : text;
  }
};

/// The signs around a label say what the note is.
std::string signed_label(const NeckNote& note, const Labels& labels) {
  const auto degree = labels.of(note);
  if (note.role == Role::set)
    return degree;
  if (note.role == Role::landing && note.in_set)
    return note.in_grip ? "[" + degree + "]" : "(" + degree + ")";
  return note.in_grip ? "{" + degree + "}" : "<" + degree + ">";
}

struct Legend {
  char sign;
  const char* meaning;
};
constexpr std::array<Legend, 4> legends{{{'[', "[ ] land here, in the grip"},
                                         {'(', "( ) land here"},
                                         {'{', "{ } chord tone outside the set, in the grip"},
                                         {'<', "< > chord tone outside the set"}}};

std::string padded(const std::string& text, std::size_t width, char fill) {
  if (text.size() >= width)
    return text;
  const auto left = (width - text.size()) / 2;
  return std::string(left, fill) + text + std::string(width - text.size() - left, fill);
}

std::string legend(const std::vector<NeckNote>& notes, const Labels& labels) {
  std::vector<std::string> parts;
  for (const auto& [sign, meaning] : legends)
    if (std::any_of(notes.begin(), notes.end(), [&, s = sign](const NeckNote& note) {
          return signed_label(note, labels).front() == s;
        }))
      parts.emplace_back(meaning);
  if (std::any_of(notes.begin(), notes.end(),
                  [](const NeckNote& note) { return note.role == Role::set; }))
    parts.emplace_back("plain: in the set");
  std::string text, line;
  for (const auto& part : parts) {
    if (!line.empty() && line.size() + 3 + part.size() > line_width) {
      text += line + '\n';
      line.clear();
    }
    line += (line.empty() ? "" : "   ") + part;
  }
  return text + line + '\n';
}

/// Strings as lines, frets as columns.
class Board {
public:
  Board(const Setting& setting, const NeckView& view, const Labels& labels)
      : instrument_(*setting.instrument), view_(view), labels_(labels), board_(instrument_),
        under_(board_.under(view.hand.low)), shown_(shown_frets(board_, view)),
        flats_(signature(setting.key) < 0) {}

  std::string draw() const {
    std::string text = numbers();
    for (int string = board_.count - 1; string >= 0; --string)
      text += line(string);
    return text;
  }

private:
  std::vector<int> columns() const {
    std::vector<int> frets;
    for (int fret = shown_.first; fret <= shown_.last; ++fret)
      frets.push_back(fret);
    if (instrument_.left_handed)
      std::reverse(frets.begin(), frets.end());
    return frets;
  }

  std::string numbers() const {
    std::string text(margin() + 1, ' ');
    for (const int fret : columns())
      text += padded(std::to_string(fret), cell_width, ' ') + ' ';
    return text.substr(0, text.find_last_not_of(' ') + 1) + '\n';
  }

  static std::size_t margin() { return 8; }

  std::string line(int string) const {
    const auto& open = board_.strings[at(string)].open;
    auto text = std::to_string(board_.number(string)) + "  " + ascii(open, flats_);
    text.insert(0, board_.number(string) < 10 ? 1 : 0, ' ');
    text.resize(margin(), ' ');
    for (const int fret : columns())
      text += edge(fret) + cell(string, fret);
    return text + last_edge() + '\n';
  }

  /// The fret wire before a column: doubled at the nut.
  std::string edge(int fret) const {
    const int before = instrument_.left_handed ? fret : fret - 1;
    const bool first = fret == columns().front();
    if (before == 0 && !first)
      return "‖";
    return first && fret == 0 ? " " : "|";
  }

  std::string last_edge() const { return columns().back() == 0 ? " " : "|"; }

  std::string cell(int string, int fret) const {
    const bool there = board_.pitch(string, fret).has_value();
    const char fill = fret == 0 || !there ? ' ' : under_.hand.contains(fret) ? '-' : '.';
    for (const auto& note : view_.notes)
      if (note.string == board_.number(string) && note.fret == fret)
        return padded(signed_label(note, labels_), cell_width, fill);
    return std::string(cell_width, fill);
  }

  const Instrument& instrument_;
  const NeckView& view_;
  const Labels& labels_;
  Fretboard board_;
  HandFrets under_;
  FretRange shown_;
  bool flats_;
};

bool is_white(int pitch) {
  return has(0b101010110101, pitch);
}

/// Black keys above white keys, names below.
std::string keys(const NeckView& view, const Labels& labels) {
  constexpr std::size_t width = 6;
  std::string black, white, names;
  for (int pitch = view.hand.low; pitch <= view.hand.high; ++pitch) {
    const auto note = std::find_if(view.notes.begin(), view.notes.end(),
                                   [&](const NeckNote& n) { return n.midi.number == pitch; });
    const auto text = note == view.notes.end() ? std::string() : signed_label(*note, labels);
    if (is_white(pitch)) {
      white += padded(text.empty() ? "." : text, width, ' ');
      names += padded(ascii(theory::MidiNote{pitch}), width, ' ');
    } else {
      black.resize(white.size() - std::min(white.size(), width / 2), ' ');
      black += padded(text.empty() ? "," : text, width, ' ');
    }
  }
  std::string all;
  for (const auto& line : {black, white, names})
    all += line.substr(0, line.find_last_not_of(' ') + 1) + '\n';
  return all;
}

std::string groups_text(const NeckView& view) {
  std::string text;
  if (!view.groups.empty())
    text += "\nGroups\n";
  for (const auto& group : view.groups) {
    std::string line = "  ";
    if (group.strings[0] > 0) {
      line += "strings ";
      for (const int string : group.strings)
        line += std::to_string(string) + ' ';
      line += "  frets " + frets_text(group);
    } else {
      line += "keys";
      for (const int pitch : group.pitches)
        line += ' ' + ascii(theory::MidiNote{pitch});
    }
    line.resize(std::max<std::size_t>(line.size() + 2, 32), ' ');
    text += line + std::string(group.form) + (group.in_grip ? ", in the grip" : "") + '\n';
  }
  return text;
}

std::string grips_text(const NeckView& view) {
  std::string text;
  if (!view.grips.empty())
    text += "\nGrips\n";
  for (const auto& grip : view.grips) {
    std::string line = "  " + frets_text(grip);
    line.resize(std::max<std::size_t>(line.size() + 2, 32), ' ');
    text += line + grip.name + '\n';
  }
  return text;
}

} // namespace

std::string diagram(const Setting& setting, const std::optional<theory::Chord>& chord,
                    const NeckView& view, LabelKind kind) {
  const Labels labels{kind, setting.key, view.hand};
  std::string text;
  for (const auto& line : headings(setting, chord, view))
    text += line + '\n';
  text += '\n';
  text += setting.instrument->kind == Instrument::Kind::keyboard
              ? keys(view, labels)
              : Board(setting, view, labels).draw();
  return text + '\n' + legend(view.notes, labels) + groups_text(view) + grips_text(view);
}

} // namespace landfall::neck
