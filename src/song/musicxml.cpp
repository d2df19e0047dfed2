#include "song/musicxml.hpp"

#include "song/harmony_symbol.hpp"
#include "song/meter.hpp"
#include "song/parser.hpp"
#include "theory/key.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <map>
#include <pugixml.hpp>

namespace landfall::song {
namespace {

constexpr std::size_t longest_score = 32'000'000;
constexpr int bars_in_line = 4, most_divisions = 100'000;

/// A chord symbol and where its measure has it.
struct Written {
  double at = 0.0; ///< Quarters from the measure's start.
  std::string symbol;
};

struct Measure {
  std::vector<Written> chords; ///< Rising.
  double length = 0.0;         ///< Quarters that its notes fill.
  std::string section, key;
  double quarters_per_minute = 0; ///< 0: not written.
  std::optional<Meter> meter;
  bool opens_repeat = false;
  int closes_repeat = 0; ///< Times in all; 0: not.
  std::string ending;    ///< `1`, `1-2`
  bool ending_stops = false;
  bool implicit = false;
};

int number_in(const pugi::xml_node& node, int standard) {
  return node ? node.text().as_int(standard) : standard;
}

std::string key_name(int fifths, bool minor) {
  if (fifths < -7 || fifths > 7)
    return "";
  constexpr std::array majors{"Cb", "Gb", "Db", "Ab", "Eb", "Bb", "F", "C",
                              "G",  "D",  "A",  "E",  "B",  "F#", "C#"};
  constexpr std::array minors{"Abm", "Ebm", "Bbm", "Fm",  "Cm",  "Gm",  "Dm", "Am",
                              "Em",  "Bm",  "F#m", "C#m", "G#m", "D#m", "A#m"};
  return (minor ? minors : majors)[static_cast<std::size_t>(fifths + 7)];
}

class Importer {
public:
  explicit Importer(std::string_view text) : text_(text) {}

  Imported import() {
    if (text_.size() > longest_score)
      return fail(1, "a score of more than 32 MB");
    const auto parsed = document_.load_buffer(text_.data(), text_.size());
    if (!parsed)
      return fail(line_at(parsed.offset),
                  std::string("expected MusicXML: ") + parsed.description());
    const auto score = document_.child("score-partwise");
    if (!score)
      return fail(1, "expected a score-partwise of MusicXML");
    const auto part = part_with_chords(score);
    if (!part)
      return fail(1, "there are no chord symbols in the score");
    for (const auto& measure : part.children("measure"))
      read(measure);
    return finish(score);
  }

private:
  Imported fail(int line, const std::string& reason) {
    result_.diagnostics.push_back({Severity::error, {line, 1}, reason});
    return std::move(result_);
  }

  void warn(const pugi::xml_node& node, const std::string& reason) {
    result_.diagnostics.push_back({Severity::warning, {line_at(node.offset_debug()), 1}, reason});
  }

  /// Offsets come in rising order but for a few: lines are counted on from the last one.
  int line_at(std::ptrdiff_t offset) {
    const auto end = static_cast<std::size_t>(
        std::clamp<std::ptrdiff_t>(offset, 0, static_cast<std::ptrdiff_t>(text_.size())));
    if (end < counted_to_) {
      counted_to_ = 0;
      lines_ = 1;
    }
    lines_ += static_cast<int>(std::count(text_.begin() + static_cast<std::ptrdiff_t>(counted_to_),
                                          text_.begin() + static_cast<std::ptrdiff_t>(end), '\n'));
    counted_to_ = end;
    return lines_;
  }

  static pugi::xml_node part_with_chords(const pugi::xml_node& score) {
    for (const auto& part : score.children("part"))
      for (const auto& measure : part.children("measure"))
        if (measure.child("harmony"))
          return part;
    return {};
  }

  void read(const pugi::xml_node& node) {
    Measure measure;
    measure.implicit = std::string_view(node.attribute("implicit").value()) == "yes";
    double at = 0.0;
    for (const auto& child : node.children()) {
      const std::string_view name = child.name();
      if (name == "attributes")
        read_attributes(child, measure);
      else if (name == "harmony")
        read_harmony(child, at, measure);
      else if (name == "note" && !child.child("chord") && !child.child("grace"))
        at += quarters(child.child("duration"));
      else if (name == "forward")
        at += quarters(child.child("duration"));
      else if (name == "backup")
        at = std::max(0.0, at - quarters(child.child("duration")));
      else if (name == "direction" || name == "sound")
        read_direction(child, measure);
      else if (name == "barline")
        read_barline(child, measure);
      measure.length = std::max(measure.length, at);
    }
    std::stable_sort(measure.chords.begin(), measure.chords.end(),
                     [](const Written& a, const Written& b) { return a.at < b.at; });
    measures_.push_back(std::move(measure));
  }

  double quarters(const pugi::xml_node& duration) const {
    const double value = duration.text().as_double(0.0) / divisions_;
    return value >= 0.0 && value < 1000.0 ? value : 0.0;
  }

  void read_attributes(const pugi::xml_node& node, Measure& measure) {
    divisions_ = std::clamp(number_in(node.child("divisions"), divisions_), 1, most_divisions);
    if (const auto time = node.child("time")) {
      const auto meter = parse_meter_of(time);
      if (meter)
        measure.meter = *meter;
      else
        warn(time, "this metre has no place in a song of ours; the one before goes on");
    }
    if (const auto key = node.child("key"))
      measure.key = key_name(number_in(key.child("fifths"), 0),
                             std::string_view(key.child_value("mode")) == "minor");
  }

  static std::optional<Meter> parse_meter_of(const pugi::xml_node& time) {
    const int beats = number_in(time.child("beats"), 0),
              unit = number_in(time.child("beat-type"), 0);
    const bool known = unit == 2 || unit == 4 || unit == 8 || unit == 16;
    return known && beats >= 1 && beats <= 16 ? std::optional(Meter{beats, unit}) : std::nullopt;
  }

  void read_harmony(const pugi::xml_node& node, double at, Measure& measure) {
    HarmonyElement harmony;
    const auto root = node.child("root");
    const std::string_view step = root.child_value("root-step");
    const auto kind = node.child("kind");
    harmony.kind = kind.text().as_string("major");
    harmony.kind_text = kind.attribute("text").value();
    if (harmony.kind != "none" && (step.size() != 1 || step[0] < 'A' || step[0] > 'G'))
      return warn(node, "a chord without a root letter was left out");
    if (!step.empty())
      harmony.root = step[0];
    harmony.root_alter = std::clamp(number_in(root.child("root-alter"), 0), -2, 2);
    const std::string_view bass = node.child("bass").child_value("bass-step");
    if (bass.size() == 1 && bass[0] >= 'A' && bass[0] <= 'G')
      harmony.bass = bass[0];
    harmony.bass_alter = std::clamp(number_in(node.child("bass").child("bass-alter"), 0), -2, 2);
    for (const auto& degree : node.children("degree"))
      harmony.degrees.push_back({std::clamp(number_in(degree.child("degree-value"), 9), 1, 13),
                                 std::clamp(number_in(degree.child("degree-alter"), 0), -2, 2),
                                 degree.child("degree-type").text().as_string("add")});
    std::string problem;
    auto symbol = harmony_symbol(harmony, problem);
    if (!problem.empty())
      warn(node, problem);
    const double offset = node.child("offset").text().as_double(0.0) / divisions_;
    measure.chords.push_back({std::max(0.0, at + offset), std::move(symbol)});
  }

  void read_direction(const pugi::xml_node& node, Measure& measure) {
    const auto sound = std::string_view(node.name()) == "sound" ? node : node.child("sound");
    if (const double quarters = sound.attribute("tempo").as_double(0.0); quarters >= 1.0)
      measure.quarters_per_minute = quarters;
    if (sound.attribute("dacapo") || sound.attribute("dalsegno") || sound.attribute("tocoda"))
      warn(node, "da capo, segno and coda are not taken over: write a form line");
    for (const auto& type : node.children("direction-type"))
      if (const auto mark = type.child("rehearsal"))
        measure.section = mark.text().as_string();
  }

  void read_barline(const pugi::xml_node& node, Measure& measure) {
    if (const auto repeat = node.child("repeat")) {
      if (std::string_view(repeat.attribute("direction").value()) == "forward")
        measure.opens_repeat = true;
      else
        measure.closes_repeat = std::clamp(repeat.attribute("times").as_int(2), 2, 99);
    }
    const auto ending = node.child("ending");
    const std::string_view type = ending.attribute("type").value();
    if (type == "start")
      measure.ending = ending_numbers(ending);
    else if (!type.empty())
      measure.ending_stops = true;
  }

  /// `1`, `2`; `1, 2` and `1,2,3` become `1-2` and `1-3`.
  std::string ending_numbers(const pugi::xml_node& node) {
    const std::string text = node.attribute("number").value();
    std::vector<int> numbers;
    for (std::size_t at = 0; at < text.size();) {
      if (text[at] < '0' || text[at] > '9') {
        ++at;
        continue;
      }
      int number = 0;
      for (; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at)
        number = std::min(number * 10 + (text[at] - '0'), 999);
      numbers.push_back(number);
    }
    if (numbers.empty())
      return warn(node, "an ending without a number was left out"), "";
    return numbers.size() == 1
               ? std::to_string(numbers.front())
               : std::to_string(numbers.front()) + "-" + std::to_string(numbers.back());
  }

  Imported finish(const pugi::xml_node& score) {
    std::string title = score.child("work").child_value("work-title");
    if (title.empty())
      title = score.child_value("movement-title");
    std::replace_if(
        title.begin(), title.end(), [](unsigned char c) { return c < ' '; }, ' ');
    std::string song_text = "title: " + (title.empty() ? "Imported" : title) + "\n" + bars();
    auto read = read_song(song_text);
    result_.song = std::move(read.song);
    for (auto& diagnostic : read.diagnostics) {
      diagnostic.message += " (in the song made of it)";
      diagnostic.at = {1, 1};
      if (!result_.song || diagnostic.severity == Severity::warning)
        result_.diagnostics.push_back(std::move(diagnostic));
    }
    return std::move(result_);
  }

  /// Lines of the song format.
  std::string bars() {
    Meter meter;
    for (std::size_t i = 0; i < measures_.size(); ++i) {
      auto& measure = measures_[i];
      if (measure.meter)
        meter = *measure.meter;
      const bool pick_up = i == 0 && measure.implicit && measures_.size() > 1;
      write_heads(measure, meter);
      if (pick_up)
        open_section("Pick-up");
      else if (!measure.section.empty() && !in_repeat_)
        open_section(measure.section);
      else if (after_pick_up_)
        open_section("Song");
      after_pick_up_ = pick_up;
      write_bar(measure, meter, pick_up);
    }
    return out_ + (in_line_ > 0 ? " |\n" : "\n");
  }

  void end_line() {
    if (in_line_ > 0)
      out_ += closing_ + "\n";
    closing_ = " |";
    in_line_ = 0;
  }

  void open_section(std::string name) {
    std::replace_if(
        name.begin(), name.end(), [](char c) { return c == ':' || c == '|' || c == '#'; }, ' ');
    const int count = ++sections_[name];
    end_line();
    out_ += "\n" + name + (count > 1 ? " " + std::to_string(count) : "") + ":\n";
  }

  /// As the song format has it: beats of the metre, which are what the foot taps.
  static std::string tempo_text(const Measure& measure, Meter meter) {
    if (measure.quarters_per_minute < 1.0)
      return "";
    return std::to_string(measure.quarters_per_minute * static_cast<double>(quarter.count) /
                          static_cast<double>(beat_length(meter).count));
  }

  void write_heads(const Measure& measure, Meter meter) {
    const auto head = [&](const char* name, const std::string& value) {
      if (value.empty())
        return;
      end_line();
      out_ += std::string(name) + ": " + value + "\n";
    };
    head("meter", measure.meter ? std::to_string(measure.meter->beats) + "/" +
                                      std::to_string(measure.meter->unit)
                                : "");
    head("key", measure.key);
    head("tempo", tempo_text(measure, meter));
  }

  void write_bar(const Measure& measure, Meter meter, bool pick_up) {
    if (in_line_ == bars_in_line || (measure.opens_repeat && in_line_ > 0))
      end_line();
    std::string open = in_line_ == 0 ? "|" : closing_.substr(1);
    if (measure.opens_repeat)
      open = "|:";
    in_repeat_ = in_repeat_ || measure.opens_repeat;
    if (!measure.ending.empty())
      open += measure.ending + ".";
    out_ += (in_line_ == 0 ? "" : " ") + open + " " + bar_text(measure, meter, pick_up);
    ++in_line_;
    closing_ = " |";
    if (measure.closes_repeat > 0) {
      closing_ = " :|";
      if (measure.closes_repeat > 2) {
        closing_ += " x" + std::to_string(measure.closes_repeat);
        end_line();
      }
      in_repeat_ = false;
    } else if (measure.ending_stops) {
      closing_ = " ||";
    }
  }

  /// Beats with slashes; within a beat, equal parts in brackets.
  std::string bar_text(const Measure& measure, Meter meter, bool pick_up) {
    const double beat = static_cast<double>(beat_length(meter).count) / ticks_per_quarter;
    const int filled = static_cast<int>(std::ceil(measure.length / beat - 1e-6));
    const int beats = pick_up ? std::clamp(filled, 1, beats_in_bar(meter)) : beats_in_bar(meter);
    std::string text;
    for (int i = 0; i < beats; ++i) {
      std::vector<Written> inside;
      for (const auto& chord : measure.chords)
        if (chord.at >= i * beat - 1e-6 && (chord.at < (i + 1) * beat - 1e-6 || i + 1 == beats))
          inside.push_back({std::clamp((chord.at - i * beat) / beat, 0.0, 0.999), chord.symbol});
      text += (text.empty() ? "" : " ") + beat_text(inside);
    }
    if (text.starts_with("/") && !any_chord_)
      text.replace(0, 1, "N.C.");
    any_chord_ = any_chord_ || !measure.chords.empty() || text.starts_with("N.C.");
    return text;
  }

  static std::string beat_text(const std::vector<Written>& inside) {
    if (inside.empty())
      return "/";
    if (inside.size() == 1 && inside.front().at < 1e-6)
      return inside.front().symbol;
    int parts = 2;
    const auto fits = [&](int count) {
      return std::all_of(inside.begin(), inside.end(), [&](const Written& each) {
        const double place = each.at * count;
        return std::abs(place - std::round(place)) < 1e-3;
      });
    };
    for (const int count : {2, 3, 4, 6, 8, 12, 16})
      if (fits(parts = count))
        break;
    std::map<int, std::string> slots;
    for (const auto& each : inside)
      slots[std::min(static_cast<int>(std::lround(each.at * parts)), parts - 1)] = each.symbol;
    std::string text = "(";
    for (int i = 0; i < parts; ++i)
      text += (i == 0 ? "" : " ") + (slots.contains(i) ? slots[i] : "/");
    return text + ")";
  }

  std::string_view text_;
  pugi::xml_document document_;
  Imported result_;
  std::vector<Measure> measures_;
  int divisions_ = 1;
  std::size_t counted_to_ = 0;
  int lines_ = 1;
  std::string out_, closing_ = " |";
  int in_line_ = 0;
  bool in_repeat_ = false, after_pick_up_ = false, any_chord_ = false;
  std::map<std::string, int> sections_;
};

} // namespace

bool reads_musicxml() {
  return true;
}

Imported import_musicxml(std::string_view text) {
  return Importer(text).import();
}

} // namespace landfall::song
