#include "song/parser.hpp"

#include "song/bar_reader.hpp"
#include "song/context_reader.hpp"
#include "song/form_line.hpp"
#include "song/key_guess.hpp"
#include "song/section_builder.hpp"
#include "song/text_line.hpp"

#include <set>

namespace landfall::song {

namespace {

enum class Kind : std::uint8_t { file, progression };

/// C minor if the chord on C that comes first is minor, else C.
theory::Key c_of_mode(const std::vector<theory::Chord>& chords) {
  for (const theory::Chord& chord : chords)
    if (chord.root == theory::Note{})
      return {{}, theory::is_minor(chord)};
  return {};
}

class Parser {
public:
  Parser(std::string_view text, Kind kind) : text_(text), kind_(kind) {}

  ReadSong run() {
    if (text_.size() > longest_text)
      reporter_.error({}, "the text is longer than a million bytes: expected a song");
    else
      read_lines();
    ReadSong result;
    if (!reporter_.failed())
      finish();
    if (!reporter_.failed())
      result.song = std::move(song_);
    result.diagnostics = reporter_.take();
    return result;
  }

private:
  void read_lines() {
    LineReader lines(text_);
    while (const auto line = lines.next(reporter_)) {
      if (reporter_.full() || bars_ > most_bars)
        return;
      read_line(*line);
    }
    close_section();
  }

  void read_line(const TextLine& line) {
    const NamedLine named = split_name(line);
    if (named.name.text.empty() && line.text.find('|') != std::string_view::npos)
      read_bars(line);
    else if (named.name.text.empty())
      reporter_.error(line.at, "expected a line such as key: A, a section's name and a colon, or "
                               "bars between |");
    else if (const auto header = header_named(named.name.text))
      read_header(*header, named);
    else if (named.value.text.empty() || named.value.text.find('|') != std::string_view::npos)
      begin_section(named);
    else
      reporter_.error(named.name.at, "nothing is called " + quoted(named.name.text) +
                                         " here: expected " + std::string(header_names) +
                                         ", or bars between | after a section's name");
  }

  void read_header(Header header, const NamedLine& line) {
    const bool in_head = bars_ == 0 && !section_;
    const bool song_wide =
        header == Header::title || header == Header::trains || header == Header::form;
    if (line.value.text.empty())
      reporter_.error(line.value.at, "expected a value after " + quoted(line.name.text) + ":");
    else if (song_wide && !in_head)
      reporter_.error(line.name.at, quoted(line.name.text) + " belongs above the first section");
    else if (in_head && !seen_.insert(header).second)
      reporter_.error(line.name.at, quoted(line.name.text) + " is given twice");
    else
      take_header(header, line.value);
  }

  void take_header(Header header, const TextLine& value) {
    if (header == Header::form) {
      form_ = value;
      return;
    }
    if (header != Header::title && header != Header::trains) {
      context_.set(header, value.text, value.at);
      return;
    }
    if (value.text.size() > 300)
      reporter_.error(value.at, "expected at most 300 bytes here");
    (header == Header::title ? song_.title : song_.trains) = value.text;
  }

  void begin_section(const NamedLine& line) {
    close_section();
    context_.settle_tempo();
    const std::string name = lower_case(line.name.text);
    if (!names_.insert(name).second)
      reporter_.error(line.name.at, "two sections are called " + quoted(line.name.text) +
                                        ": expected another name");
    if (line.name.text.size() > 40)
      reporter_.error(line.name.at, "expected a section's name of at most 40 bytes");
    open_section(line.name);
    in_pickup_ = name == "pick-up" || name == "pickup" || name == "pick up";
    if (in_pickup_ && bars_ > 0)
      reporter_.error(line.name.at, "the pick-up stands in front of all other bars");
    if (!line.value.text.empty())
      read_bars(line.value);
  }

  void open_section(const TextLine& name) {
    section_.emplace(reporter_);
    section_name_ = name;
    bars_before_section_ = bars_;
    in_pickup_ = false;
  }

  void close_section() {
    if (!section_)
      return;
    const bool repeats = section_->has_repeats();
    auto passages = section_->finish();
    if (bars_ == bars_before_section_)
      reporter_.error(section_name_.at, "expected bars in section " + quoted(section_name_.text));
    else if (in_pickup_)
      close_pickup(std::move(passages), repeats);
    else
      song_.sections.push_back({std::string(section_name_.text), std::move(passages)});
    if (!in_pickup_)
      section_places_.push_back(section_name_.at);
    section_.reset();
  }

  void close_pickup(std::vector<Passage> passages, bool repeats) {
    if (repeats || passages.size() != 1 || !passages[0].endings.empty())
      reporter_.error(section_name_.at, "a pick-up has no repeats");
    else if (passages[0].bars.size() > 4)
      reporter_.error(section_name_.at, "expected at most 4 bars of pick-up");
    else
      song_.pickup = std::move(passages[0].bars);
  }

  /// What the first bar of the form stands in is the song's own.
  void take_first(const Context& context) {
    song_.key = context.key;
    song_.meter = context.meter;
    song_.tempo = context.tempo;
    song_.feel = context.feel;
    key_is_guessed_ = !context_.knows_key();
    form_begun_ = true;
  }

  void read_bars(const TextLine& line) {
    if (!section_)
      open_section({{}, line.at});
    std::vector<Mark> bar;
    bool seen_line = false; // a bar line on this line of text
    bool repeat_before = false;
    for (const Mark& mark : marks_of(line.text, line.at, reporter_)) {
      if (mark.kind == Mark::Kind::bar_line) {
        const BarLine found = bar_line(mark);
        if (!bar.empty())
          add_bar(bar);
        else if (seen_line && !repeat_before && !found.closes_repeat && !found.opens_repeat)
          add_empty_bar(mark.at);
        section_->add(found, mark.at);
        bar.clear();
        seen_line = true;
        repeat_before = found.closes_repeat || found.opens_repeat;
      } else if (mark.kind == Mark::Kind::ending || mark.kind == Mark::Kind::times) {
        read_repeat_mark(mark, bar.empty());
      } else {
        bar.push_back(mark);
      }
    }
    if (!bar.empty())
      add_bar(bar);
  }

  void read_repeat_mark(const Mark& mark, bool at_bar_start) {
    if (!at_bar_start)
      reporter_.error(mark.at, quoted(mark.text) + " belongs right behind a bar line");
    else if (mark.kind == Mark::Kind::ending)
      section_->begin_ending(passes(mark), mark.at);
    else
      section_->set_times(times(mark), mark.at);
  }

  void add_empty_bar(Position at) {
    reporter_.warning(at, "an empty bar: expected a chord, N.C., / or %; the chord before goes on");
    push(ChartBar{{}, context_.current(), false}, at);
  }

  void add_bar(const std::vector<Mark>& marks) {
    const BarSurroundings around{context_.current(), section_->last_bar(), in_pickup_};
    for (const Mark& mark : marks)
      if (mark.kind == Mark::Kind::symbol && !context_.knows_key() && is_numeral(mark.text))
        degrees_of_c_ = true;
    push(read_bar(marks, around, reporter_), marks.front().at);
  }

  void push(ChartBar bar, Position at) {
    if (++bars_ > most_bars) {
      reporter_.error(at, "more than " + std::to_string(most_bars) + " bars");
      return;
    }
    if (!context_.knows_key())
      ++bars_without_key_;
    if (!form_begun_ && !in_pickup_)
      take_first(bar.context);
    if (bars_ == bars_before_section_ + 1 && !in_pickup_ && song_.sections.empty() &&
        (bar.chords.empty() || bar.chords.front().at > Ticks{0}))
      reporter_.warning(at, "nothing sounds yet: expected a chord or N.C. on the first beat");
    section_->add(std::move(bar));
  }

  void finish() {
    if (song_.sections.empty()) {
      reporter_.error({}, "no bars: expected chords between |, as in | A | D | E | A |");
      return;
    }
    decide_order();
    if (bars_without_key_ > 0)
      settle_key();
    if (song_.title.empty() && kind_ == Kind::file)
      reporter_.warning({}, "no title: expected a line such as title: Lamps along the Quay");
    if (song_.title.empty() && kind_ == Kind::progression)
      song_.title = title_from_bars(text_);
    if (!reporter_.failed() && unrolled_bars(song_) > most_bars)
      reporter_.error({},
                      "more than " + std::to_string(most_bars) + " bars once repeats are played");
  }

  void decide_order() {
    if (!form_) {
      for (std::size_t i = 0; i < song_.sections.size(); ++i)
        song_.order.push_back(static_cast<int>(i));
      return;
    }
    song_.order = read_form_line(form_->text, form_->at, song_.sections, reporter_);
    const std::set<int> played(song_.order.begin(), song_.order.end());
    for (std::size_t i = 0; i < song_.sections.size(); ++i)
      if (!played.contains(static_cast<int>(i)))
        reporter_.warning(section_places_[i], "section " + quoted(song_.sections[i].name) +
                                                  " is not in the form: it is never played");
  }

  void settle_key();

  std::string_view text_;
  Kind kind_;
  Reporter reporter_;
  ContextReader context_{reporter_};
  Song song_;
  std::optional<SectionBuilder> section_;
  TextLine section_name_;
  bool in_pickup_ = false;
  bool form_begun_ = false;
  bool key_is_guessed_ = false;
  std::size_t bars_ = 0;
  std::size_t bars_before_section_ = 0;
  std::size_t bars_without_key_ = 0;
  bool degrees_of_c_ = false; ///< Numerals were read before any key was named.
  std::vector<Position> section_places_;
  std::set<std::string> names_;
  std::set<Header> seen_;
  std::optional<TextLine> form_;
};

/// Gives the bars that no key line covers the song's key, or, if the form begins with them, the key
/// that fits them best.
void Parser::settle_key() {
  std::vector<ChartBar*> bars;
  for (ChartBar& bar : song_.pickup)
    bars.push_back(&bar);
  for (Section& section : song_.sections)
    for (Passage& passage : section.passages) {
      for (ChartBar& bar : passage.bars)
        bars.push_back(&bar);
      for (Ending& ending : passage.endings)
        for (ChartBar& bar : ending.bars)
          bars.push_back(&bar);
    }
  bars.resize(std::min(bars.size(), bars_without_key_));
  std::vector<theory::Chord> chords;
  for (const ChartBar* bar : bars)
    for (const WrittenChord& written : bar->chords)
      if (written.chord)
        chords.push_back(*written.chord);
  if (chords.size() > 64) {
    chords[63] = chords.back();
    chords.resize(64);
  }
  if (key_is_guessed_)
    song_.key = degrees_of_c_ ? c_of_mode(chords) : likely_key(chords);
  for (ChartBar* bar : bars)
    bar->context.key = song_.key;
}

} // namespace

ReadSong read_song(std::string_view text) {
  return Parser(text, Kind::file).run();
}

namespace {

Result<Song> first_error_or_song(ReadSong read) {
  if (read.song)
    return std::move(*read.song);
  for (Diagnostic& diagnostic : read.diagnostics)
    if (diagnostic.severity == Severity::error)
      return TextError{std::move(diagnostic.message), diagnostic.at.column, diagnostic.at.line};
  return TextError{"no song"};
}

} // namespace

Result<Song> parse_song(std::string_view text) {
  return first_error_or_song(read_song(text));
}

Result<Song> parse_progression(std::string_view text) {
  return first_error_or_song(Parser(text, Kind::progression).run());
}

} // namespace landfall::song
