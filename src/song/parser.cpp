#include "song/parser.hpp"

#include "song/chart_builder.hpp"

namespace landfall::song {

namespace {

constexpr std::size_t longest_value = 300;

class Parser {
public:
  ReadSong run(std::string_view text) {
    if (text.size() > longest_text)
      reporter_.error({}, "the text is longer than a million bytes: expected a song");
    else
      read_lines(text);
    Song song = chart_.finish(form_);
    song.title = std::move(title_);
    song.trains = std::move(trains_);
    ReadSong result;
    if (!reporter_.failed())
      result.song = std::move(song);
    result.diagnostics = reporter_.take();
    return result;
  }

private:
  void read_lines(std::string_view text) {
    LineReader lines(text);
    while (const auto line = lines.next(reporter_)) {
      if (reporter_.full() || chart_.full())
        return;
      read_line(*line);
    }
  }

  void read_line(const TextLine& line) {
    const NamedLine named = split_name(line);
    const bool has_bars = line.text.find('|') != std::string_view::npos;
    if (named.name.text.empty() && has_bars)
      chart_.read_bars(line);
    else if (named.name.text.empty())
      reporter_.error(line.at, "expected a line such as key: A, a section's name and a colon, or "
                               "bars between |");
    else if (const auto header = header_named(named.name.text))
      read_header(*header, named);
    else if (named.value.text.empty() || has_bars)
      read_section(named);
    else
      reporter_.error(named.name.at, "nothing is called " + quoted(named.name.text) +
                                         " here: expected " + std::string(header_names) +
                                         ", or bars between | after a section's name");
  }

  void read_section(const NamedLine& line) {
    chart_.begin_section(line.name);
    if (!line.value.text.empty())
      chart_.read_bars(line.value);
  }

  void read_header(Header header, const NamedLine& line) {
    const bool song_wide =
        header == Header::title || header == Header::trains || header == Header::form;
    if (line.value.text.empty())
      reporter_.error(line.value.at, "expected a value after " + quoted(line.name.text) + ":");
    else if (song_wide && !chart_.in_head())
      reporter_.error(line.name.at, quoted(line.name.text) + " belongs above the first section");
    else if (chart_.in_head() && !seen_.insert(header).second)
      reporter_.error(line.name.at, quoted(line.name.text) + " is given twice");
    else
      take_header(header, line.value);
  }

  void take_header(Header header, const TextLine& value) {
    if (header == Header::form)
      form_ = value;
    else if (header == Header::title)
      title_ = checked_length(value);
    else if (header == Header::trains)
      trains_ = checked_length(value);
    else
      chart_.context().set(header, value.text, value.at);
  }

  std::string_view checked_length(const TextLine& value) {
    if (value.text.size() > longest_value)
      reporter_.error(value.at, "expected at most " + std::to_string(longest_value) + " bytes");
    return value.text;
  }

  Reporter reporter_;
  ChartBuilder chart_{reporter_};
  std::set<Header> seen_; ///< In the head.
  std::string title_;
  std::string trains_;
  std::optional<TextLine> form_;
};

Result<Song> song_or_first_error(ReadSong read) {
  if (read.song)
    return std::move(*read.song);
  for (Diagnostic& diagnostic : read.diagnostics)
    if (diagnostic.severity == Severity::error)
      return TextError{std::move(diagnostic.message), diagnostic.at.column, diagnostic.at.line};
  return TextError{"expected a song"};
}

} // namespace

ReadSong read_song(std::string_view text) {
  ReadSong read = Parser().run(text);
  if (read.song && read.song->title.empty())
    read.diagnostics.insert(
        read.diagnostics.begin(),
        {Severity::warning, {}, "no title: expected a line such as title: Lamps along the Quay"});
  return read;
}

Result<Song> parse_song(std::string_view text) {
  return song_or_first_error(Parser().run(text));
}

Result<Song> parse_progression(std::string_view text) {
  auto song = song_or_first_error(Parser().run(text));
  if (song && song->title.empty())
    song->title = title_from_bars(text);
  return song;
}

} // namespace landfall::song
