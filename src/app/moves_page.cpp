#include "app/moves_page.hpp"

#include "app/field_keys.hpp"
#include "song/song.hpp"
#include "theory/words.hpp"

#include <charconv>
#include <cmath>

namespace landfall::app {
namespace {

std::optional<double> number_in(std::string_view text, double low, double high) {
  text = trimmed(text);
  double value = 0.0;
  const auto [end, status] = std::from_chars(text.data(), text.data() + text.size(), value);
  const bool good =
      status == std::errc{} && end == text.data() + text.size() && value >= low && value <= high;
  return good ? std::optional(value) : std::nullopt;
}

std::optional<int> choruses_in(const std::string& text) {
  const auto number = number_in(text, 1.0, 1000.0);
  return number && std::floor(*number) == *number ? std::optional(static_cast<int>(*number))
                                                  : std::nullopt;
}

} // namespace

MovesPage::MovesPage(const practice::Choice& choice, song::Meter meter,
                     std::shared_ptr<const neck::Instrument> instrument, Calls calls)
    : meter_(meter), instrument_(std::move(instrument)), calls_(std::move(calls)) {
  std::string list;
  for (const auto key : choice.key_moves.keys)
    list += (list.empty() ? "" : " ") + ascii(key);
  if (choice.key_moves.every > 0 && list.empty())
    list = std::to_string(choice.key_moves.half_steps);
  fields_[keys] = TextField(list);
  if (choice.key_moves.every > 0)
    fields_[key_choruses] = TextField(std::to_string(choice.key_moves.every));
  if (choice.tempo_moves.choruses == 0)
    return;
  const auto beats = [&](Tempo tempo) {
    return std::to_string(std::lround(song::beats_per_minute(tempo, meter)));
  };
  fields_[tempo_from] = TextField(beats(choice.tempo_moves.from));
  fields_[tempo_to] = TextField(beats(choice.tempo_moves.to));
  fields_[tempo_choruses] = TextField(std::to_string(choice.tempo_moves.choruses));
}

void MovesPage::show(FrameInput& input) {
  render::EditPage page;
  page.title = "Keys and tempos that move by themselves";
  const std::array labels{"keys, or half steps", "every so many choruses", "tempo from", "to",
                          "in so many choruses"};
  const std::array hints{"A E F#m, or 5", "1", "80", "120", "8"};
  for (std::size_t i = 0; i < fields_.size(); ++i) {
    render::EditField field{labels[i], fields_[i].text(), hints[i], {}};
    if (i == focus_)
      field.caret = fields_[i].caret();
    page.fields.push_back(std::move(field));
  }
  std::string problem;
  key_moves(problem);
  tempo_moves(problem);
  page.problem = problem;
  input.page = page;
  input.hints = "Esc close  Tab next field  Return set them going";
}

bool MovesPage::press(const render::KeyPress& press) {
  if (press.name == "Return")
    return apply(), true;
  if (press_in(fields_[focus_], press))
    return true;
  const auto steps = fields_on(fields_[focus_], press);
  const auto count = fields_.size();
  return steps && (focus_ = (focus_ + count + static_cast<std::size_t>(*steps)) % count, true);
}

void MovesPage::click(const render::Hit& hit, render::MouseButton) {
  const auto* field = std::get_if<render::HitField>(&hit);
  if (field == nullptr || field->index < 0 ||
      static_cast<std::size_t>(field->index) >= fields_.size())
    return;
  focus_ = static_cast<std::size_t>(field->index);
  fields_[focus_].to(field->caret);
}

std::optional<practice::KeyMoves> MovesPage::key_moves(std::string& problem) const {
  practice::KeyMoves moves;
  moves.instrument = instrument_;
  const auto parts = words(fields_[keys].text());
  if (parts.empty())
    return std::nullopt;
  if (const auto steps = number_in(fields_[keys].text(), -11.0, 11.0))
    moves.half_steps = static_cast<int>(std::lround(*steps));
  else
    for (const auto part : parts) {
      const auto key = theory::parse_key(part);
      if (!key) {
        problem = "keys: " + key.error().reason;
        return std::nullopt;
      }
      moves.keys.push_back(*key);
    }
  const auto& text = fields_[key_choruses].text();
  const auto every = trimmed(text).empty() ? std::optional(1) : choruses_in(text);
  if (!every) {
    problem = "every: expected a number of choruses";
    return std::nullopt;
  }
  moves.every = *every;
  return moves;
}

std::optional<practice::TempoMoves> MovesPage::tempo_moves(std::string& problem) const {
  if (trimmed(fields_[tempo_from].text()).empty() && trimmed(fields_[tempo_to].text()).empty())
    return std::nullopt;
  const auto from = number_in(fields_[tempo_from].text(), min_bpm, max_bpm);
  const auto to = number_in(fields_[tempo_to].text(), min_bpm, max_bpm);
  const auto& text = fields_[tempo_choruses].text();
  const auto choruses = trimmed(text).empty() ? std::optional(8) : choruses_in(text);
  if (!from || !to || !choruses) {
    problem = "tempo: expected beats a minute from 20 to 400, twice, and a number of choruses";
    return std::nullopt;
  }
  return practice::TempoMoves{song::tempo_from_beats(*from, meter_),
                              song::tempo_from_beats(*to, meter_), *choruses};
}

void MovesPage::apply() {
  std::string problem;
  const auto key = key_moves(problem);
  const auto tempo = tempo_moves(problem);
  if (!problem.empty())
    return calls_.say(problem);
  calls_.apply(practice::SetKeyMoves{key.value_or(practice::KeyMoves{})});
  calls_.apply(practice::SetTempoMoves{tempo.value_or(practice::TempoMoves{})});
  calls_.say(key || tempo ? "they move from the next chorus on" : "key and tempo stay");
  close();
}

} // namespace landfall::app
