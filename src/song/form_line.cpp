#include "song/form_line.hpp"

#include "song/header.hpp"

#include <map>

namespace landfall::song {

namespace {

constexpr std::size_t longest_order = 1000;

struct Word {
  std::string text; ///< In lower case.
  Position at;
  bool last = false; ///< A comma or the end follows.
};

std::vector<Word> words_of(std::string_view line, Position start) {
  std::vector<Word> words;
  std::size_t at = 0;
  while (at < line.size()) {
    const std::size_t end = std::min(line.find_first_of(" \t,", at), line.size());
    if (end > at)
      words.push_back({lower_case(line.substr(at, end - at)),
                       {start.line, start.column + static_cast<int>(at)},
                       false});
    if (!words.empty() && (end == line.size() || line[end] == ','))
      words.back().last = true;
    at = end + 1;
  }
  return words;
}

/// How many times a word like `x2` asks for; 0 if it is none.
int repeat_count(const Word& word) {
  if (word.text.size() < 2 || word.text.size() > 3 || word.text[0] != 'x')
    return 0;
  int count = 0;
  for (const char c : word.text.substr(1)) {
    if (c < '0' || c > '9')
      return 0;
    count = count * 10 + (c - '0');
  }
  return count;
}

struct Match {
  int section = -1;
  std::size_t words = 1;
};

/// The longest section name that begins at `from`.
Match longest_match(const std::vector<Word>& words, std::size_t from,
                    const std::map<std::string, int>& names) {
  Match best;
  std::string phrase;
  for (std::size_t i = from; i < words.size() && i < from + 8; ++i) {
    phrase += (i == from ? "" : " ") + words[i].text;
    if (const auto found = names.find(phrase); found != names.end())
      best = {found->second, i - from + 1};
    if (words[i].last)
      break;
  }
  return best;
}

std::string names_in_words(const std::vector<Section>& sections) {
  std::string text;
  for (const Section& section : sections) {
    if (text.size() > 80)
      return text + ", ...";
    text += (text.empty() ? "" : ", ") + section.name;
  }
  return text;
}

} // namespace

std::vector<int> read_form_line(std::string_view line, Position start,
                                const std::vector<Section>& sections, Reporter& reporter) {
  std::map<std::string, int> names;
  for (std::size_t i = 0; i < sections.size(); ++i)
    names.emplace(lower_case(sections[i].name), static_cast<int>(i));
  std::vector<int> order;
  const std::vector<Word> words = words_of(line, start);
  for (std::size_t i = 0; i < words.size() && order.size() < longest_order;) {
    const Match match = longest_match(words, i, names);
    const int count = repeat_count(words[i]);
    if (match.section >= 0)
      order.push_back(match.section);
    else if (count >= 2 && !order.empty())
      order.insert(order.end(), static_cast<std::size_t>(count) - 1, int{order.back()});
    else
      reporter.error(words[i].at, "no section is called " + quoted(words[i].text) +
                                      ": expected one of " + names_in_words(sections));
    i += match.words;
  }
  if (words.empty())
    reporter.error(start, "expected the sections' names in the order of playing");
  if (order.size() >= longest_order)
    reporter.error(start, "the form is too long: expected fewer than 1000 sections");
  return order;
}

} // namespace landfall::song
