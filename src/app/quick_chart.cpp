#include "app/quick_chart.hpp"

#include "song/key_guess.hpp"
#include "song/parser.hpp"
#include "theory/words.hpp"

#include <algorithm>

namespace landfall::app {
namespace {

constexpr std::array<std::string_view, QuickChart::field_count> names{"title", "key",  "tempo",
                                                                      "meter", "feel", "bars"};
constexpr std::array<std::string_view, QuickChart::field_count> hints{
    "untitled", "as it fits", "120", "4/4", "as it fits", "Am7 | D7 | Gmaj7 | %"};
constexpr int bars_in_line = 4;

std::string_view without_end(std::string_view text) {
  while (!text.empty() && (text.back() == ' ' || text.back() == '\n'))
    text.remove_suffix(1);
  return text;
}

std::string_view last_line(std::string_view text) {
  const auto cut = text.rfind('\n');
  return cut == std::string_view::npos ? text : text.substr(cut + 1);
}

/// Bars of one chord in the last line.
int bars_in(std::string_view line) {
  return static_cast<int>(std::count(line.begin(), line.end(), '|')) -
         (trimmed(line).starts_with('|') ? 1 : 0);
}

/// Whether the last bar that is written holds one chord only.
bool last_is_single(std::string_view text) {
  text = without_end(text);
  if (!text.ends_with('|'))
    return false;
  text.remove_suffix(1);
  const auto open = text.rfind('|');
  return open != std::string_view::npos && words(text.substr(open + 1)).size() == 1;
}

std::string with_chord(const std::string& before, const std::string& chord, bool same_bar) {
  std::string text(without_end(before));
  if (same_bar) {
    text.pop_back();
    return text + chord + " |";
  }
  if (text.empty())
    return "| " + chord + " |";
  if (!text.ends_with('|'))
    text += " |";
  if (bars_in(last_line(text)) >= bars_in_line)
    return text + "\n| " + chord + " |";
  return text + " " + chord + " |";
}

} // namespace

QuickChart::QuickChart() {
  fields_[bars] = TextField("", true);
}

void QuickChart::next_field(int steps) {
  const int count = static_cast<int>(field_count);
  focus_ = static_cast<Field>(((focus_ + steps) % count + count) % count);
}

std::string QuickChart::song_text() const {
  std::string text;
  for (std::size_t i = 0; i + 1 < field_count; ++i)
    if (const auto value = trimmed(fields_[i].text()); !value.empty())
      text.append(names[i]).append(": ").append(value).append("\n");
  return text + "\n" + fields_[bars].text() + "\n";
}

QuickChart::Read QuickChart::read() const {
  if (trimmed(fields_[bars].text()).empty())
    return {std::nullopt, ""};
  auto song = song::parse_song(song_text());
  if (song) {
    if (song->title.empty())
      song->title = "Untitled";
    return {std::move(*song), ""};
  }
  int heads = 1;
  std::string_view named;
  for (std::size_t i = 0; i + 1 < field_count; ++i)
    if (!trimmed(fields_[i].text()).empty() && heads++ == song.error().line)
      named = names[i];
  const auto& error = song.error();
  if (error.line < heads)
    return {std::nullopt, std::string(named) + ": " + error.reason};
  return {std::nullopt, "line " + std::to_string(error.line - heads) + ", column " +
                            std::to_string(error.column) + ": " + error.reason};
}

std::string QuickChart::draft_text() const {
  std::string text;
  for (std::size_t i = 0; i + 1 < field_count; ++i)
    text.append(names[i]).append(": ").append(fields_[i].text()).append("\n");
  return text + "bars:\n" + fields_[bars].text();
}

QuickChart QuickChart::from_draft(std::string_view text) {
  QuickChart chart;
  for (std::size_t i = 0; i + 1 < field_count; ++i) {
    const auto end = std::min(text.find('\n'), text.size());
    const auto head = std::string(names[i]) + ": ";
    if (!text.starts_with(head)) {
      chart.fields_[bars] = TextField(std::string(text), true); // of another kind: all of it
      return chart;
    }
    chart.fields_[i] = TextField(std::string(text.substr(head.size(), end - head.size())));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  if (text.starts_with("bars:\n"))
    text.remove_prefix(6);
  chart.fields_[bars] = TextField(std::string(text), true);
  return chart;
}

void QuickChart::add_chord(std::vector<theory::Chord> choices) {
  if (choices.empty())
    return;
  const auto& before = fields_[bars].text();
  played_ = Played{before, halves_ && last_is_single(before), std::move(choices), 0, ""};
  focus_ = bars;
  write_reading();
}

bool QuickChart::next_reading() {
  if (!played_ || played_->choices.size() < 2 || fields_[bars].text() != played_->after)
    return false;
  played_->choice = (played_->choice + 1) % played_->choices.size();
  write_reading();
  return true;
}

void QuickChart::write_reading() {
  auto& played = *played_;
  played.after = with_chord(played.before, ascii(played.choices[played.choice]), played.same_bar);
  fields_[bars].replace(played.after);
}

theory::Key QuickChart::key_now() const {
  if (const auto typed = theory::parse_key(trimmed(fields_[key].text())))
    return *typed;
  const auto now = read();
  return now.song ? now.song->key : theory::Key{};
}

render::EditPage QuickChart::page() const {
  render::EditPage page;
  page.title = "Quick chart";
  const auto now = read();
  for (std::size_t i = 0; i + 1 < field_count; ++i) {
    render::EditField field;
    field.label = names[i];
    field.text = fields_[i].text();
    field.hint = hints[i];
    if (i == focus_)
      field.caret = fields_[i].caret();
    page.fields.push_back(std::move(field));
  }
  if (now.song && fields_[key].text().empty())
    page.fields[key].hint = ascii(now.song->key) + ", as it fits";
  if (now.song && fields_[feel].text().empty())
    page.fields[feel].hint = now.song->feel;
  const auto& text = fields_[bars].text();
  for (std::size_t from = 0; from <= text.size();) {
    const auto end = std::min(text.find('\n', from), text.size());
    page.lines.push_back(text.substr(from, end - from));
    from = end + 1;
  }
  page.lines_hint = hints[bars];
  if (focus_ == bars)
    page.caret = render::EditCaret{fields_[bars].line(), fields_[bars].line_before_caret().size()};
  page.problem = now.problem;
  if (now.song) {
    const auto count = unrolled_bars(*now.song);
    page.count = std::to_string(count) + (count == 1 ? " bar" : " bars");
  }
  return page;
}

} // namespace landfall::app
