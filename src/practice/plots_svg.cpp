#include "ear/words.hpp"
#include "practice/plots.hpp"

#include <algorithm>
#include <cmath>

namespace landfall::practice {
namespace {

constexpr const char *ground = "#F6F2EA", *ink = "#1B1E22", *quiet = "#444B52", *line = "#C3BBAA",
                     *sand = "#8A4600", *tide = "#12566E";
constexpr double width = 960, margin = 48, row = 30;

std::string number(double value) {
  auto text = std::to_string(std::round(value * 10) / 10);
  text.erase(text.find('.') + 2);
  return text;
}

std::string escaped(const std::string& text) {
  std::string safe;
  for (const char c : text)
    safe += c == '&' ? "&amp;" : c == '<' ? "&lt;" : c == '>' ? "&gt;" : std::string(1, c);
  return safe;
}

std::string of_words(const Landings& landings) {
  return std::to_string(landings.landed) + " of " + std::to_string(landings.played);
}

std::string date_words(std::chrono::sys_days day) {
  const std::chrono::year_month_day date(day);
  return std::to_string(static_cast<unsigned>(date.day())) + "." +
         std::to_string(static_cast<unsigned>(date.month())) + ".";
}

/// Draws downwards from y.
class Sheet {
public:
  void text(double x, double at, const std::string& words, const char* colour = ink,
            const char* anchor = "start", int size = 15) {
    body_ += "<text x=\"" + number(x) + "\" y=\"" + number(at) + "\" fill=\"" + colour +
             "\" text-anchor=\"" + anchor + "\" font-size=\"" + std::to_string(size) + "\">" +
             escaped(words) + "</text>\n";
  }
  void rect(double x, double at, double w, double h, const char* colour) {
    body_ += "<rect x=\"" + number(x) + "\" y=\"" + number(at) + "\" width=\"" + number(w) +
             "\" height=\"" + number(h) + "\" fill=\"" + colour + "\"/>\n";
  }
  void circle(double x, double at, double radius, bool full) {
    body_ += "<circle cx=\"" + number(x) + "\" cy=\"" + number(at) + "\" r=\"" + number(radius) +
             "\" " +
             (full ? std::string("fill=\"") + sand + "\""
                   : std::string("fill=\"none\" stroke=\"") + quiet + "\"") +
             "/>\n";
  }
  void heading(const std::string& title, const std::string& about) {
    y += 44;
    text(margin, y, title, ink, "start", 20);
    text(width - margin, y, about, quiet, "end", 13);
    y += 14;
  }
  std::string document() const {
    const auto height = number(y + margin);
    return "<svg xmlns=\"http://www.w3.org/2000/svg\" width=\"" + number(width) + "\" height=\"" +
           height + "\" viewBox=\"0 0 " + number(width) + " " + height +
           "\" font-family=\"Atkinson Hyperlegible Next, sans-serif\">\n<rect width=\"100%\" "
           "height=\"100%\" fill=\"" +
           ground + "\"/>\n" + body_ + "</svg>\n";
  }

  double y = 12;

private:
  std::string body_;
};

void draw_map(Sheet& sheet, const HeatMap& map) {
  sheet.heading("Key by place", "ring: how much was played; disc: how much of it landed");
  const double left = margin + 110, step = std::min(90.0, (width - margin - left) /
                                                              static_cast<double>(map.keys.size()));
  const double largest = std::min(step, 64.0) / 2 - 4;
  sheet.y += 20;
  for (std::size_t i = 0; i < map.keys.size(); ++i)
    sheet.text(left + step * (static_cast<double>(i) + 0.5), sheet.y, ascii(map.keys[i]), quiet,
               "middle");
  for (const auto& place : map.places) {
    const double middle = sheet.y + largest + 12;
    sheet.text(margin, middle + 5, place_words(place), quiet);
    for (std::size_t i = 0; i < map.keys.size(); ++i) {
      const auto* cell = map.at(map.keys[i], place);
      if (cell == nullptr)
        continue;
      const double x = left + step * (static_cast<double>(i) + 0.5);
      const double radius =
          std::max(4.0, largest * std::sqrt(static_cast<double>(cell->played) / map.most_played()));
      sheet.circle(x, middle, radius, false);
      if (cell->landed > 0)
        sheet.circle(x, middle,
                     radius * std::sqrt(static_cast<double>(cell->landed) / cell->played), true);
      sheet.text(x, middle + largest + 15, of_words(*cell), ink, "middle", 12);
    }
    sheet.y += 2 * largest + 34;
  }
}

void draw_degrees(Sheet& sheet, const History& history) {
  int all = 0, most = 1;
  for (const auto& [degree, count] : history.by_degree) {
    all += count.landed;
    most = std::max(most, count.landed);
  }
  sheet.heading("What you land on", std::to_string(all) + " landings");
  for (const auto& [degree, count] : history.by_degree) {
    sheet.y += row;
    sheet.text(margin, sheet.y, ear::plural_of(degree), quiet);
    const double length = 600.0 * count.landed / most;
    sheet.rect(margin + 110, sheet.y - 14, length, 16, sand);
    sheet.text(margin + 120 + length, sheet.y, std::to_string(count.landed));
  }
}

/// Columns from a line upwards; `share` gives 0 to 1.
template <typename Share>
void draw_columns(Sheet& sheet, const std::vector<Span>& spans, const char* colour, int every,
                  Share share) {
  constexpr double height = 110;
  const double step = (width - 2 * margin) / static_cast<double>(spans.size());
  sheet.y += height + 10;
  sheet.rect(margin, sheet.y, width - 2 * margin, 1, line);
  for (std::size_t i = 0; i < spans.size(); ++i) {
    const double x = margin + step * static_cast<double>(i);
    const double tall = height * share(spans[i]);
    if (tall > 0)
      sheet.rect(x + step * 0.2, sheet.y - tall, step * 0.6, tall, colour);
    if ((spans.size() - 1 - i) % static_cast<std::size_t>(every) == 0)
      sheet.text(x + step / 2, sheet.y + 18, date_words(spans[i].from), quiet, "middle", 12);
  }
  sheet.y += 24;
}

} // namespace

std::string history_svg(const History& history, std::chrono::sys_days today) {
  Sheet sheet;
  if (history.empty()) {
    sheet.heading("Nothing practised yet", "");
    return sheet.document();
  }
  draw_map(sheet, heat_map(history));
  draw_degrees(sheet, history);
  const auto weeks = last_weeks(history, today, 26);
  sheet.heading("Landed, week by week", "a full column: every change that was played at");
  draw_columns(sheet, weeks, sand, 4, [](const Span& span) {
    return span.landings.played == 0
               ? 0.0
               : static_cast<double>(span.landings.landed) / span.landings.played;
  });
  const auto days = last_days(history, today, 42);
  const auto longest = std::max_element(days.begin(), days.end(), [](const auto& a, const auto& b) {
                         return a.length < b.length;
                       })->length;
  sheet.heading("Minutes a day",
                "the longest: " + std::to_string(std::lround(longest.count())) + " minutes");
  draw_columns(sheet, days, tide, 7,
               [&](const Span& span) { return longest.count() > 0 ? span.length / longest : 0.0; });
  return sheet.document();
}

} // namespace landfall::practice
