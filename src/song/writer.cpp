#include "song/writer.hpp"

#include "song/bar_text.hpp"
#include "song/header.hpp"

#include <algorithm>
#include <array>
#include <charconv>

namespace landfall::song {

namespace {

constexpr int bars_on_a_line = 4;

bool blank(char c) {
  return c == ' ' || c == '\t';
}

/// In one line of at most 300 bytes, without what would read as a comment.
std::string one_line(std::string line) {
  for (char& c : line)
    c = (static_cast<unsigned char>(c) < 0x20 && c != '\t') || c == 0x7F ? ' ' : c;
  for (std::size_t i = 0; i < line.size(); ++i)
    if (line[i] == '#' &&
        (i == 0 || blank(line[i - 1]) || line[i - 1] == '|' || line[i - 1] == ':') &&
        (i + 1 == line.size() || blank(line[i + 1])))
      line[i] = ' ';
  std::size_t end = std::min<std::size_t>(line.size(), 300);
  while (end > 0 && end < line.size() && (static_cast<unsigned char>(line[end]) & 0xC0U) == 0x80U)
    --end;
  return std::string(trimmed(line.substr(0, end)));
}

/// The shortest number of beats a minute that reads back as the same tempo.
std::string tempo_text(Tempo tempo, Meter meter) {
  const double exact = beats_per_minute(tempo, meter);
  std::array<char, 64> digits{};
  for (int decimals = 0; decimals <= 12; ++decimals) {
    const auto end = std::to_chars(digits.data(), digits.data() + digits.size(), exact,
                                   std::chars_format::fixed, decimals);
    double read = 0;
    std::from_chars(digits.data(), end.ptr, read);
    if (tempo_from_beats(read, meter) == tempo || decimals == 12)
      return {digits.data(), end.ptr};
  }
  return {};
}

std::string meter_text(Meter meter) {
  return std::to_string(meter.beats) + "/" + std::to_string(meter.unit);
}

/// A bar with the signs around it.
struct Item {
  const ChartBar* bar;
  bool opens = false; ///< `|:` in front.
  std::string ending; ///< `1.` in front.
  std::string after = "|";
};

std::string ending_text(const Ending& ending) {
  const std::string first = std::to_string(ending.first_pass);
  return ending.last_pass == ending.first_pass
             ? first + "."
             : first + "-" + std::to_string(ending.last_pass) + ".";
}

void append(std::vector<Item>& items, const std::vector<ChartBar>& bars) {
  for (const ChartBar& bar : bars)
    items.push_back({&bar, false, "", "|"});
}

void append(std::vector<Item>& items, const Passage& passage) {
  const std::size_t first = items.size();
  append(items, passage.bars);
  for (const Ending& ending : passage.endings) {
    const std::size_t start = items.size();
    append(items, ending.bars);
    items[start].ending = ending_text(ending);
    items.back().after = &ending == &passage.endings.back() ? "||" : ":|";
  }
  if (passage.times == 1)
    return;
  items[first].opens = true;
  if (passage.endings.empty())
    items.back().after = passage.times == 2 ? ":|" : ":| x" + std::to_string(passage.times);
}

class Writer {
public:
  explicit Writer(const Song& song) : song_(song), context_(context(song)) {}

  std::string run() {
    head();
    if (!song_.pickup.empty()) {
      std::vector<Item> items;
      append(items, song_.pickup);
      section("Pick-up", items);
    }
    for (const Section& written : song_.sections) {
      std::vector<Item> items;
      for (const Passage& passage : written.passages)
        append(items, passage);
      section(written.name, items);
    }
    return std::move(text_);
  }

private:
  void named(std::string_view name, const std::string& value) {
    if (!value.empty())
      (text_ += name) += ": " + value + "\n";
  }

  void head() {
    named("title", one_line(song_.title));
    named("key", theory::ascii(song_.key));
    named("meter", meter_text(song_.meter));
    named("tempo", tempo_text(song_.tempo, song_.meter));
    named("feel", song_.feel);
    named("trains", one_line(song_.trains));
    if (!plays_in_order())
      named("form", order());
  }

  bool plays_in_order() const {
    for (std::size_t i = 0; i < song_.order.size(); ++i)
      if (song_.order[i] != static_cast<int>(i))
        return false;
    return song_.order.size() == song_.sections.size();
  }

  std::string order() const {
    std::string names;
    for (const int index : song_.order)
      names += (names.empty() ? "" : ", ") + song_.sections[static_cast<std::size_t>(index)].name;
    return names;
  }

  void section(const std::string& name, const std::vector<Item>& items) {
    text_ += "\n";
    if (!name.empty())
      text_ += name + ":\n";
    int on_line = 0;
    for (std::size_t i = 0; i < items.size(); ++i) {
      const bool breaks = on_line == bars_on_a_line || items[i].opens ||
                          items[i].bar->context != context_ || (i > 0 && items[i - 1].after != "|");
      if (i > 0 && breaks)
        text_ += "\n";
      if (i == 0 || breaks)
        begin_line(items[i]);
      on_line = i == 0 || breaks ? 1 : on_line + 1;
      text_ += items[i].ending + " " + bar_text(*items[i].bar) + " " + items[i].after;
    }
    text_ += "\n";
  }

  void begin_line(const Item& item) {
    change_to(item.bar->context);
    text_ += item.opens ? "|:" : "|";
  }

  void change_to(const Context& context) {
    if (context.key != context_.key)
      named("key", theory::ascii(context.key));
    if (context.meter != context_.meter)
      named("meter", meter_text(context.meter));
    if (context.tempo != context_.tempo)
      named("tempo", tempo_text(context.tempo, context.meter));
    if (context.feel != context_.feel)
      named("feel", context.feel);
    context_ = context;
  }

  const Song& song_;
  Context context_;
  std::string text_;
};

} // namespace

std::string as_text(const Song& song) {
  return Writer(song).run();
}

} // namespace landfall::song
