#include "song/chart_builder.hpp"

#include "song/bar_reader.hpp"
#include "song/form_line.hpp"
#include "song/parser.hpp"
#include "song/symbol.hpp"

namespace landfall::song {

namespace {

constexpr std::size_t longest_name = 40;
constexpr std::size_t most_pickup_bars = 4;

bool names_pickup(std::string_view lower_case_name) {
  return lower_case_name == "pick-up" || lower_case_name == "pickup" ||
         lower_case_name == "pick up";
}

bool sounds_late(const ChartBar& bar) {
  return bar.chords.empty() || bar.chords.front().at > Ticks{0};
}

} // namespace

bool ChartBuilder::full() const {
  return bars_ > most_bars;
}

void ChartBuilder::begin_section(const TextLine& name) {
  close_section();
  context_.settle_tempo();
  const std::string key = lower_case(name.text);
  if (!names_.insert(key).second)
    reporter_.error(name.at,
                    "two sections are called " + quoted(name.text) + ": expected another name");
  if (name.text.size() > longest_name)
    reporter_.error(name.at, "expected a section's name of at most 40 bytes");
  open_section(name);
  in_pickup_ = names_pickup(key);
  if (in_pickup_ && bars_ > 0)
    reporter_.error(name.at, "the pick-up stands in front of all other bars");
}

void ChartBuilder::open_section(const TextLine& name) {
  section_.emplace(reporter_);
  name_ = name;
  bars_before_section_ = bars_;
  in_pickup_ = false;
}

void ChartBuilder::close_section() {
  if (!section_)
    return;
  const bool repeats = section_->has_repeats();
  auto passages = section_->finish();
  section_.reset();
  if (bars_ == bars_before_section_) {
    reporter_.error(name_.at, "expected bars in section " + quoted(name_.text));
  } else if (in_pickup_) {
    close_pickup(std::move(passages), repeats);
  } else {
    song_.sections.push_back({std::string(name_.text), std::move(passages)});
    places_.push_back(name_.at);
  }
}

void ChartBuilder::close_pickup(std::vector<Passage> passages, bool repeats) {
  if (repeats || passages.size() != 1 || !passages[0].endings.empty())
    reporter_.error(name_.at, "a pick-up has no repeats");
  else if (passages[0].bars.size() > most_pickup_bars)
    reporter_.error(name_.at, "expected at most 4 bars of pick-up");
  else
    song_.pickup = std::move(passages[0].bars);
}

void ChartBuilder::read_bars(const TextLine& line) {
  if (!section_)
    open_section({{}, line.at});
  std::vector<Mark> bar;
  bool seen_line = false; // a bar line on this line of text
  bool repeat_before = false;
  for (const Mark& mark : marks_of(line.text, line.at, reporter_)) {
    if (mark.kind == Mark::Kind::bar_line) {
      const BarLine found = bar_line(mark);
      const bool repeat = found.closes_repeat || found.opens_repeat;
      if (!bar.empty())
        add_bar(bar);
      else if (seen_line && !repeat_before && !repeat)
        add_empty_bar(mark.at);
      section_->add(found, mark.at);
      bar.clear();
      seen_line = true;
      repeat_before = repeat;
    } else if (mark.kind == Mark::Kind::ending || mark.kind == Mark::Kind::times) {
      read_repeat_mark(mark, bar.empty());
    } else {
      bar.push_back(mark);
    }
  }
  if (!bar.empty())
    add_bar(bar);
}

void ChartBuilder::read_repeat_mark(const Mark& mark, bool at_bar_start) {
  if (!at_bar_start)
    reporter_.error(mark.at, quoted(mark.text) + " belongs right behind a bar line");
  else if (mark.kind == Mark::Kind::ending)
    section_->begin_ending(passes(mark), mark.at);
  else
    section_->set_times(times(mark), mark.at);
}

void ChartBuilder::add_bar(const std::vector<Mark>& marks) {
  const BarSurroundings around{context_.current(), section_->last_bar(), in_pickup_};
  for (const Mark& mark : marks)
    if (mark.kind == Mark::Kind::symbol && !context_.knows_key() && is_numeral(mark.text))
      has_degrees_of_c_ = true;
  push(read_bar(marks, around, reporter_), marks.front().at);
}

void ChartBuilder::add_empty_bar(Position at) {
  reporter_.warning(at, "an empty bar: expected a chord, N.C., / or %; the chord before goes on");
  push(ChartBar{{}, context_.current(), false}, at);
}

void ChartBuilder::push(ChartBar bar, Position at) {
  if (++bars_ > most_bars) {
    reporter_.error(at, "more than " + std::to_string(most_bars) + " bars");
    return;
  }
  if (!context_.knows_key())
    ++bars_without_key_;
  if (!form_begun_ && !in_pickup_) {
    take_own(bar.context);
    if (sounds_late(bar))
      reporter_.warning(at, "nothing sounds yet: expected a chord or N.C. on the first beat");
  }
  section_->add(std::move(bar));
}

/// What the first bar of the form stands in is the song's own.
void ChartBuilder::take_own(const Context& context) {
  song_.key = context.key;
  song_.meter = context.meter;
  song_.tempo = context.tempo;
  song_.feel = context.feel;
  key_is_guessed_ = !context_.knows_key();
  form_begun_ = true;
}

Song ChartBuilder::finish(const std::optional<TextLine>& form_line) {
  close_section();
  if (song_.sections.empty() && !reporter_.failed())
    reporter_.error({}, "no bars: expected chords between |, as in | A | D | E | A |");
  if (reporter_.failed())
    return {};
  decide_order(form_line);
  if (bars_without_key_ > 0)
    settle_key(song_, bars_without_key_, key_source());
  if (!reporter_.failed() && unrolled_bars(song_) > most_bars)
    reporter_.error({}, "more than " + std::to_string(most_bars) + " bars once all is played");
  return std::move(song_);
}

void ChartBuilder::decide_order(const std::optional<TextLine>& form_line) {
  if (!form_line) {
    for (std::size_t i = 0; i < song_.sections.size(); ++i)
      song_.order.push_back(static_cast<int>(i));
    return;
  }
  song_.order = read_form_line(form_line->text, form_line->at, song_.sections, reporter_);
  const std::set<int> played(song_.order.begin(), song_.order.end());
  for (std::size_t i = 0; i < song_.sections.size(); ++i)
    if (!played.contains(static_cast<int>(i)))
      reporter_.warning(places_[i], "section " + quoted(song_.sections[i].name) +
                                        " is not in the form: it is never played");
}

KeySource ChartBuilder::key_source() const {
  if (!key_is_guessed_)
    return KeySource::song;
  return has_degrees_of_c_ ? KeySource::degrees : KeySource::chords;
}

} // namespace landfall::song
