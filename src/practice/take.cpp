#include "practice/take.hpp"

#include "practice/command_text.hpp"
#include "song/parser.hpp"
#include "song/unroll.hpp"
#include "song/writer.hpp"
#include "theory/named_lines.hpp"
#include "theory/words.hpp"

#include <charconv>

namespace landfall::practice {
namespace {

constexpr std::string_view opening = "landfall take 1\n", song_line = "\nsong:\n";
constexpr std::int64_t furthest = 10'000'000'000; ///< Ticks; more is exact no longer.
constexpr std::size_t most_lines = 200'000;

using Problem = std::optional<TextError>;

std::string text_of(Ticks ticks) {
  return std::to_string(ticks.count);
}

/// A form as the session makes it of a song: in a key, all in one feel if one is chosen.
song::Form plain_form(const song::Song& song, theory::Key key, const std::string& feel) {
  auto form = song::unroll(song, key);
  if (!feel.empty())
    for (auto& bar : form.bars)
      bar.feel = feel;
  return form;
}

/// The feel that lies over all bars of a form; empty where it is the song's own.
std::string own_feel(const song::Form& form, const song::Form& plain) {
  for (std::size_t i = 0; i < form.bars.size() && i < plain.bars.size(); ++i)
    if (form.bars[i].feel != plain.bars[i].feel)
      return form.bars[i].feel;
  return "";
}

void write_stretch(std::string& text, const song::Song& song, const song::Stretch& stretch) {
  const auto plain = song::unroll(song, stretch.form->key);
  const auto feel = own_feel(*stretch.form, plain);
  const bool closes = stretch.form->bars.size() != plain.bars.size() ||
                      stretch.form->bars.back().chords != plain.bars.back().chords;
  text += closes ? "closing: " : "stretch: ";
  for (const auto ticks : {stretch.start, Ticks{stretch.chorus}, stretch.from, stretch.to})
    text += text_of(ticks) + " ";
  text += ascii(stretch.form->key) + (feel.empty() ? "" : " " + feel) + "\n";
}

class Reader {
public:
  Result<TakeHead> read(std::string_view text) {
    if (!text.starts_with(opening))
      return TextError{"expected `landfall take 1`", 1, 1};
    const auto end = text.find(song_line);
    if (end == std::string_view::npos)
      return TextError{"expected `song:` and the song's text", 1, 1};
    if (auto problem = read_song(text.substr(end + song_line.size())))
      return *problem;
    auto lines = text.substr(opening.size(), end - opening.size());
    if (auto problem = read_named_lines(lines, [&](const auto& field) { return take(field); })) {
      ++problem->line; // after the opening
      return *problem;
    }
    return std::move(head_);
  }

private:
  Problem read_song(std::string_view text) {
    auto song = song::parse_song(text);
    if (!song)
      return song.error();
    head_.song = std::make_shared<const song::Song>(std::move(*song));
    return std::nullopt;
  }

  Problem take(const NamedField& field) {
    if (++lines_ > most_lines)
      return field.bad_name("a take has at most 200000 lines");
    rest_ = field.value;
    field_ = &field;
    if (field.name == "seed")
      return read_seed(field);
    if (field.name == "span")
      return head_.from = ticks(), head_.to = ticks(), done();
    if (field.name == "count-in")
      return head_.timeline.count_in = ticks(), done();
    if (field.name == "first" || field.name == "at" || field.name == "by-itself")
      return read_command_line(field);
    if (field.name == "tempo")
      return read_tempo();
    if (field.name == "stretch" || field.name == "closing")
      return read_stretch(field.name == "closing");
    return std::nullopt; // of a later version
  }

  Problem read_seed(const NamedField& field) {
    const auto* end = field.value.data() + field.value.size();
    const auto [rest, status] = std::from_chars(field.value.data(), end, head_.seed);
    if (status != std::errc{} || rest != end)
      return field.bad_value("expected a whole number");
    return std::nullopt;
  }

  std::int64_t number(std::int64_t low, std::int64_t high) {
    rest_ = trimmed(rest_);
    std::int64_t value = 0;
    const auto [end, status] = std::from_chars(rest_.data(), rest_.data() + rest_.size(), value);
    ok_ = ok_ && status == std::errc{} && value >= low && value <= high;
    rest_.remove_prefix(static_cast<std::size_t>(end - rest_.data()));
    return ok_ ? value : low;
  }

  Ticks ticks() { return {number(-furthest, furthest)}; }

  Problem done() {
    rest_ = trimmed(rest_);
    if (ok_ && rest_.empty())
      return std::nullopt;
    const auto at = rest_.empty() ? field_->value.size()
                                  : static_cast<std::size_t>(rest_.data() - field_->value.data());
    return field_->bad_value("expected whole numbers", at);
  }

  Problem read_command_line(const NamedField& field) {
    Applied applied;
    const bool first = field.name == "first";
    if (!first)
      applied.at = ticks();
    const auto line = trimmed(rest_);
    auto command = read_command(line);
    if (!ok_ || !command)
      return field.bad_value(command ? "expected a tick" : command.error().reason);
    if (first) {
      auto& choice = head_.timeline.first;
      choice = with(std::move(choice), *command);
      return std::nullopt;
    }
    applied.command = std::move(*command);
    applied.by_itself = field.name == "by-itself";
    head_.timeline.applied.push_back(std::move(applied));
    return std::nullopt;
  }

  Problem read_tempo() {
    const auto at = ticks();
    head_.timeline.tempi[at] = Tempo{number(10'000, 10'000'000)};
    return done();
  }

  Problem read_stretch(bool closes) {
    auto& performance = head_.timeline.performance;
    const auto start = ticks();
    const auto chorus = static_cast<int>(number(0, 100'000'000));
    const auto from = ticks(), to = ticks();
    rest_ = trimmed(rest_);
    const auto blank = std::min(rest_.find(' '), rest_.size());
    const auto key = theory::parse_key(rest_.substr(0, blank));
    const std::string feel(trimmed(rest_.substr(blank)));
    if (!ok_ || !key || start != performance.end())
      return field_->bad_value("expected start, chorus, from, to and key of the next stretch");
    const auto form = form_of(*key, feel, closes ? std::optional(from) : std::nullopt);
    if (!form || from < Ticks{} || to > form->length || from >= to)
      return field_->bad_value("the song has no such bars");
    performance.append(chorus, form, from, to);
    return std::nullopt;
  }

  std::shared_ptr<const song::Form> form_of(theory::Key key, const std::string& feel,
                                            std::optional<Ticks> closing) {
    if (form_ && !closing && key == form_key_ && feel == form_feel_)
      return form_;
    auto form = plain_form(*head_.song, key, feel);
    if (closing) {
      if (*closing < Ticks{} || *closing >= form.length)
        return nullptr;
      return std::make_shared<const song::Form>(closed(form, *closing));
    }
    form_key_ = key;
    form_feel_ = feel;
    return form_ = std::make_shared<const song::Form>(std::move(form));
  }

  TakeHead head_;
  const NamedField* field_ = nullptr;
  std::string_view rest_;
  bool ok_ = true;
  std::size_t lines_ = 0;
  std::shared_ptr<const song::Form> form_;
  theory::Key form_key_;
  std::string form_feel_;
};

} // namespace

std::string as_text(const TakeHead& head) {
  const auto& timeline = head.timeline;
  std::string text(opening);
  text += "seed: " + std::to_string(head.seed) + "\n";
  text += "span: " + text_of(head.from) + " " + text_of(head.to) + "\n";
  text += "count-in: " + text_of(timeline.count_in) + "\n";
  for (const auto& command : commands_for(timeline.first))
    text += "first: " + command_text(command) + "\n";
  for (const auto& applied : timeline.applied)
    text += (applied.by_itself ? "by-itself: " : "at: ") + text_of(applied.at) + " " +
            command_text(applied.command) + "\n";
  for (const auto& [at, tempo] : timeline.tempi)
    text += "tempo: " + text_of(at) + " " + std::to_string(tempo.micros_per_quarter) + "\n";
  for (const auto& stretch : timeline.performance.stretches())
    if (stretch.start < head.to)
      write_stretch(text, *head.song, stretch);
  return text + std::string(song_line.substr(1)) + song::as_text(*head.song);
}

Result<TakeHead> read_take_head(std::string_view text) {
  return Reader().read(text);
}

} // namespace landfall::practice
