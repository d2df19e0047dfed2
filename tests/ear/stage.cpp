#include "ear/stage.hpp"

#include "ear/sounding.hpp"
#include "neck/target.hpp"
#include "practice/sample_session.hpp"
#include "theory/words.hpp"

#include <cmath>
#include <numbers>
#include <sstream>

namespace landfall::test {
namespace {

std::vector<std::string> split(const std::string& text, char separator) {
  std::vector<std::string> parts;
  std::stringstream stream(text);
  for (std::string part; std::getline(stream, part, separator);)
    parts.push_back(part);
  return parts;
}

/// The options at the end of a piece: `v20`, `s3`.
struct Options {
  int velocity = 90;
  std::optional<int> string;

  int channel() const { return string.value_or(0); }
};

Options options_of(const std::vector<std::string>& words, std::size_t from) {
  Options options;
  for (auto i = from; i < words.size(); ++i)
    (words[i][0] == 'v' ? options.velocity : options.string.emplace()) =
        std::stoi(words[i].substr(1));
  return options;
}

class Reader {
public:
  explicit Reader(const ear::Ground& ground) : ground_(ground) {}

  void read(const std::string& piece) {
    std::vector<std::string> words;
    std::stringstream stream(piece);
    for (std::string word; stream >> word;)
      words.push_back(word);
    if (words.empty())
      return;
    if (words[0] == "bend")
      bend(tick(words[1]), std::stod(words[2]), options_of(words, 3));
    else if (words[0] == "pedal")
      events_.push_back(ear::Pedal{tick(words[1]), std::nullopt, words[2] == "down"});
    else if (words[0] == "glide" || words[0] == "shake")
      curve(words);
    else
      note(words);
  }

  std::vector<ear::Event> sorted() {
    const auto at = [](const ear::Event& event) {
      return std::visit([](const auto& each) { return each.at; }, event);
    };
    const auto last = [](const ear::Event& event) {
      return std::holds_alternative<ear::NoteOff>(event)  ? 0
             : std::holds_alternative<ear::NoteOn>(event) ? 2
                                                          : 1;
    };
    std::stable_sort(events_.begin(), events_.end(), [&](const auto& a, const auto& b) {
      return std::pair(at(a), last(a)) < std::pair(at(b), last(b));
    });
    return events_;
  }

private:
  Ticks tick(const std::string& place) const { return tick_of(place, ground_); }

  void bend(Ticks at, double cents, const Options& options) {
    events_.push_back(ear::Bend{at, options.channel(), cents});
  }

  void curve(const std::vector<std::string>& words) {
    const auto from = tick(words[1]), to = tick(words[2]);
    const double a = std::stod(words[3]), b = std::stod(words[4]);
    const auto options = options_of(words, 5);
    const auto step = ear::ticks_of_ms(5.0, ground_.tempo.tempo_at(from));
    for (auto at = from; at <= to; at += step) {
      const double part =
          static_cast<double>((at - from).count) / static_cast<double>((to - from).count);
      const auto ms = ground_.tempo.time_at(at) - ground_.tempo.time_at(from);
      const double phase = static_cast<double>(ms.count()) / 1e9 * 5.0 * 2.0 * std::numbers::pi;
      bend(at, words[0] == "glide" ? a + (b - a) * part : a + b * std::sin(phase), options);
    }
    if (words[0] == "glide")
      bend(to, b, options);
  }

  void note(const std::vector<std::string>& words) {
    const auto at = tick(words[0]);
    const auto options = options_of(words, 3);
    const auto* span = ground_.span_at(std::max(at, Ticks{}));
    const auto beat = span == nullptr ? quarter : span->beat;
    const Ticks length{std::llround(std::stod(words[2]) * static_cast<double>(beat.count))};
    for (const auto& name : split(words[1], '+')) {
      const int midi = theory::parse_midi_note(name).value().number;
      events_.push_back(ear::NoteOn{at, options.channel(), midi, options.velocity, options.string});
      events_.push_back(ear::NoteOff{at + length, options.channel(), midi});
    }
  }

  const ear::Ground& ground_;
  std::vector<ear::Event> events_;
};

} // namespace

const neck::Instrument& guitar() {
  static const neck::Instrument instrument = neck::standard_guitar();
  return instrument;
}

practice::Timeline timeline_of(const Stage& stage) {
  practice::Session::Setup setup;
  const auto song = stage.chart.find('\n') == std::string::npos
                        ? song::parse_progression("key: A\n" + stage.chart)
                        : song::parse_song(stage.chart);
  REQUIRE_MESSAGE(song, stage.chart);
  setup.song = std::make_shared<const song::Song>(*song);
  setup.feels = std::make_shared<PlainFeels>();
  setup.choice.key = song->key;
  setup.choice.tempo = stage.chart.find('\n') == std::string::npos ? stage.tempo : song->tempo;
  setup.choice.set = theory::parse_note_set(stage.set).value();
  setup.choice.over = theory::usual_over(setup.choice.set);
  setup.choice.target = neck::parse_target(stage.target).value();
  setup.choice.loop = stage.loop;
  practice::Session session(setup);
  session.start();
  const auto length = bar_length(song->meter);
  for (const auto& [number, command] : stage.commands) {
    session.advance(length * (number - 1) - Ticks{100});
    session.apply(command, length * (number - 1));
  }
  session.advance(length * stage.bars);
  return session.timeline();
}

ear::Ground ground_of(const Stage& stage) {
  const auto timeline = timeline_of(stage);
  Ticks end;
  for (int i = 0; i < stage.bars; ++i)
    end = timeline.performance.bar_line_from(end + Ticks{1});
  return practice::ground_of(timeline, {&guitar(), stage.feels, nullptr}, end);
}

Ticks tick_of(const std::string& place, const ear::Ground& ground) {
  const auto sign = place.find_first_of("+-", 1);
  const double ms = sign == std::string::npos ? 0.0 : std::stod(place.substr(sign));
  const auto colon = place.find(':');
  const int number = std::stoi(place);
  const double beat = std::stod(place.substr(colon + 1, sign - colon - 1));
  std::vector<Ticks> bars;
  Ticks length;
  for (const auto& span : ground.spans) {
    if (bars.empty() || bars.back() != span.bar)
      bars.push_back(span.bar);
    length = span.beat;
    if (static_cast<int>(bars.size()) == number)
      break;
  }
  REQUIRE_MESSAGE(static_cast<int>(bars.size()) >= number, place);
  const auto from = bars.back();
  const auto at = from + Ticks{std::llround((beat - 1.0) * static_cast<double>(length.count))};
  const auto moved = ear::ticks_of_ms(std::abs(ms), ground.tempo.tempo_at(at));
  return ms < 0.0 ? at - moved : at + moved;
}

std::vector<ear::Event> events_of(const std::string& text, const ear::Ground& ground) {
  Reader reader(ground);
  for (const auto& piece : split(text, ';'))
    reader.read(piece);
  return reader.sorted();
}

std::vector<ear::HeardNote> heard(const std::vector<ear::Event>& events) {
  ear::Tracker tracker;
  for (const auto& event : events)
    tracker.take(event);
  return tracker.notes();
}

std::string words_of(const ear::JudgedChange& change) {
  constexpr std::array verdicts{"landed", "late", "off", "rest"};
  constexpr std::array approaches{"step", "half step", "common tone", "leap", "enclosure"};
  std::string words = verdicts[static_cast<std::size_t>(change.verdict)];
  if (change.degree)
    words += " " + ascii(*change.degree);
  if (change.held)
    words += " " + ascii(*change.held);
  if (change.approach)
    words += std::string(" ") + approaches[static_cast<std::size_t>(*change.approach)];
  return words;
}

const ear::JudgedChange* change_at(const ear::Judgement& judgement, const ear::Ground& ground,
                                   const std::string& place) {
  const auto at = tick_of(place, ground);
  for (const auto& change : judgement.changes)
    if (change.at == at)
      return &change;
  return nullptr;
}

} // namespace landfall::test
