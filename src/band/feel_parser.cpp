#include "band/feel_lines.hpp"
#include "band/feel_settings.hpp"
#include "band/kit.hpp"
#include "band/pulse.hpp"

#include <algorithm>

namespace landfall::band {
namespace {

using Trouble = std::optional<TextError>;

constexpr std::size_t most_bytes = 256 * 1024;
constexpr std::size_t most_blocks = 256;
constexpr std::size_t most_rows = 64;
constexpr std::size_t most_bars = 16;

constexpr std::string_view touch_letters = ".,oxX";
constexpr std::string_view bass_letters = ".-1356784vawprx";
constexpr std::string_view comping_letters = ".-,oxXlhpP12345";

enum class Block : std::uint8_t { none, drums, bass, comping, count_in };

/// Reads a feel line by line.
class Reader {
public:
  Result<Feel> read(std::string_view text);

private:
  Trouble read_line(Words line);
  Trouble open_block(Words header);
  Trouble read_qualities(Words rest);
  void start_pattern();
  Trouble read_row(Words line);
  Trouble read_drum(Words name, Row row);
  Trouble read_voice(Words name, Row row);
  Result<Row> read_cells(Words cells, std::string_view letters) const;
  Trouble close_block();
  Trouble finished(Words end) const;
  int beats() const { return beats_ > 0 ? beats_ : static_cast<int>(pulses(feel_.meter).size()); }

  Feel feel_;
  FeelSettings settings_{feel_};
  Block block_ = Block::none;
  Words header_;
  Role role_ = Role::groove;
  std::optional<Level> level_;
  int beats_ = 0;
  std::size_t blocks_ = 0;
  std::optional<Row> line_;
};

/// Whether the cells make whole beats, of a number that divides every beat's ticks.
bool divides(int cells, int beats) {
  constexpr std::array<int, 7> in_beat{1, 2, 3, 4, 6, 8, 12};
  return cells % beats == 0 &&
         std::find(in_beat.begin(), in_beat.end(), cells / beats) != in_beat.end();
}

std::string_view main_row(Block block) {
  return block == Block::bass ? "line" : "chords";
}

Trouble Reader::read_line(Words line) {
  line.text = line.text.substr(0, line.text.find('#'));
  line = trimmed(line);
  if (line.text.empty())
    return std::nullopt;
  if (line.text.find('|') != std::string_view::npos)
    return read_row(line);
  if (line.text.back() == ':') {
    line.text.remove_suffix(1);
    if (const auto trouble = close_block())
      return trouble;
    return open_block(trimmed(line));
  }
  if (block_ != Block::none)
    return error_at(line, "expected a row of cells between bar lines, or a block such as 'drums "
                          "medium:'");
  return settings_.read(line);
}

Trouble Reader::open_block(Words header) {
  header_ = header;
  role_ = Role::groove;
  level_.reset();
  beats_ = 0;
  line_.reset();
  if (++blocks_ > most_blocks)
    return error_at(header, "more than " + std::to_string(most_blocks) + " blocks");
  auto rest = header;
  const auto part = take_word(rest);
  if (part.text == "drums")
    block_ = Block::drums;
  else if (part.text == "bass")
    block_ = Block::bass;
  else if (part.text == "comping")
    block_ = Block::comping;
  else if (part.text == "count-in")
    block_ = Block::count_in;
  else
    return error_at(part, "'" + shown(part.text) +
                              "' is no block: expected drums, bass, comping or count-in");
  if (const auto trouble = read_qualities(rest))
    return trouble;
  return start_pattern(), std::nullopt;
}

Trouble Reader::read_qualities(Words rest) {
  while (!rest.text.empty()) {
    const auto word = take_word(rest);
    if (block_ == Block::count_in)
      return error_at(word, "expected ':' after count-in");
    if (word.text == "fill" && block_ == Block::drums)
      role_ = Role::fill;
    else if (word.text == "ending")
      role_ = Role::ending;
    else if (word.text == "quiet")
      level_ = Level::quiet;
    else if (word.text == "medium")
      level_ = Level::medium;
    else if (word.text == "full")
      level_ = Level::full;
    else if (role_ == Role::fill && !word.text.empty() && word.text[0] >= '0' &&
             word.text[0] <= '9') {
      const auto count = number_in(word, 1, static_cast<int>(pulses(feel_.meter).size()));
      if (!count)
        return count.error();
      beats_ = *count;
      const auto unit = take_word(rest);
      if (unit.text != "beats" && unit.text != "beat")
        return error_at(unit, "expected 'beats' after the number");
    } else
      return error_at(word, "'" + shown(word.text) +
                                "' says nothing here: expected quiet, medium, full, ending or, of "
                                "drums, fill with its number of beats");
  }
  return std::nullopt;
}

void Reader::start_pattern() {
  if (block_ == Block::drums)
    feel_.drums.push_back({role_, level_, beats(), {}});
  else if (block_ == Block::count_in)
    feel_.count_in.clear();
}

Trouble Reader::read_row(Words line) {
  if (block_ == Block::none)
    return error_at(line, "a row must stand under a block such as 'drums medium:'");
  auto cells = line;
  const auto name = take_until(cells, '|');
  const bool drum = block_ == Block::drums || block_ == Block::count_in;
  const bool touch = drum || name.text == "touch";
  const auto row = read_cells(cells, touch                   ? touch_letters
                                     : block_ == Block::bass ? bass_letters
                                                             : comping_letters);
  if (!row)
    return row.error();
  return drum ? read_drum(name, *row) : read_voice(name, *row);
}

Trouble Reader::read_drum(Words name, Row row) {
  const auto* drum = find_drum(name.text);
  if (drum == nullptr)
    return error_at(name, "'" + shown(name.text) + "' is no drum of the kit");
  auto& rows = block_ == Block::drums ? feel_.drums.back().rows : feel_.count_in;
  for (const auto& other : rows)
    if (other.note == drum->note)
      return error_at(name, "this block has a row for '" + shown(name.text) + "' already");
  if (rows.size() >= most_rows)
    return error_at(name, "more than " + std::to_string(most_rows) + " rows in a block");
  rows.push_back({drum->note, std::move(row)});
  return std::nullopt;
}

Trouble Reader::read_voice(Words name, Row row) {
  auto& patterns = block_ == Block::bass ? feel_.bass : feel_.comping;
  if (name.text == main_row(block_) && !line_) {
    line_ = row;
    patterns.push_back({role_, level_, std::move(row), std::nullopt});
    return std::nullopt;
  }
  if (name.text == "touch" && line_ && !patterns.back().touch) {
    patterns.back().touch = std::move(row);
    return std::nullopt;
  }
  return error_at(name, "expected one row '" + std::string(main_row(block_)) +
                            "' and after it at most one row 'touch'");
}

Result<Row> Reader::read_cells(Words cells, std::string_view letters) const {
  Row row;
  const int every = beats();
  while (!cells.text.empty()) {
    auto bar = take_until(cells, '|');
    std::string read;
    for (auto rest = bar; !rest.text.empty();) {
      const auto word = take_word(rest);
      for (std::size_t i = 0; i < word.text.size(); ++i)
        if (letters.find(word.text[i]) == std::string_view::npos)
          return TextError{"'" + shown(word.text.substr(i, 1)) +
                               "' is no cell here: expected one of " + std::string(letters),
                           word.column + static_cast<int>(i), word.line};
      read += word.text;
    }
    if (!divides(static_cast<int>(read.size()), every))
      return error_at(bar, "a bar of " + std::to_string(read.size()) +
                               " cells does not divide into " + std::to_string(every) +
                               " beats of 1, 2, 3, 4, 6, 8 or 12 cells");
    if (row.bars.size() >= most_bars)
      return error_at(bar, "more than " + std::to_string(most_bars) + " bars in a row");
    row.bars.push_back(std::move(read));
  }
  if (row.bars.empty())
    return error_at(cells, "expected cells after the bar line");
  return row;
}

Trouble Reader::close_block() {
  const bool empty = (block_ == Block::drums && feel_.drums.back().rows.empty()) ||
                     (block_ == Block::count_in && feel_.count_in.empty()) ||
                     ((block_ == Block::bass || block_ == Block::comping) && !line_);
  if (empty)
    return error_at(header_, "this block has no rows");
  return std::nullopt;
}

Trouble Reader::finished(Words end) const {
  const auto groove = [](const auto& pattern) { return pattern.role == Role::groove; };
  if (feel_.name.empty())
    return error_at(end, "the feel has no 'name:' line");
  if (std::none_of(feel_.drums.begin(), feel_.drums.end(), groove))
    return error_at(end, "the feel has no block 'drums'");
  if (std::none_of(feel_.bass.begin(), feel_.bass.end(), groove))
    return error_at(end, "the feel has no block 'bass'");
  if (std::none_of(feel_.comping.begin(), feel_.comping.end(), groove))
    return error_at(end, "the feel has no block 'comping'");
  return std::nullopt;
}

Result<Feel> Reader::read(std::string_view text) {
  Words line{text, 0, 1};
  if (text.size() > most_bytes)
    return TextError{"a feel file may hold 256 KiB at most", 1, 1};
  while (!text.empty()) {
    const auto end = text.find('\n');
    line = {text.substr(0, end), line.line + 1, 1};
    if (const auto trouble = read_line(line))
      return *trouble;
    text = end == std::string_view::npos ? std::string_view{} : text.substr(end + 1);
  }
  line = {"", std::max(line.line, 1), 1};
  if (const auto trouble = close_block())
    return *trouble;
  if (const auto trouble = finished(line))
    return *trouble;
  return std::move(feel_);
}

} // namespace

Level level_of(double intensity) {
  if (!(intensity >= 1.0 / 3))
    return Level::quiet;
  return intensity < 2.0 / 3 ? Level::medium : Level::full;
}

Result<Feel> parse_feel(std::string_view text) {
  return Reader{}.read(text);
}

} // namespace landfall::band
