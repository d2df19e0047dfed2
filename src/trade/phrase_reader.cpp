#include "song/header.hpp"
#include "theory/words.hpp"
#include "trade/phrase_file.hpp"
#include "trade/phrase_notes.hpp"
#include "trade/phrase_value.hpp"

#include <algorithm>
#include <set>

namespace landfall::trade {
namespace {

using Problem = std::optional<TextError>;

TextError moved(const NamedField& field, const TextError& error) {
  return field.bad_value(error.reason, static_cast<std::size_t>(error.column - 1));
}

class Reader {
public:
  Problem take(const NamedField& field) {
    if (field.name != "line" && !seen_.emplace(field.name).second)
      return field.bad_name("'" + std::string(field.name) + "' stands here twice");
    if (field.name == "name" || field.name == "about")
      return take_text(field, field.name == "name" ? kept_.name : kept_.about);
    if (field.name == "tags")
      return take_tags(field);
    if (field.name == "line")
      return take_line(field);
    if (notes_)
      return field.bad_name("expected only lines `line: ...` after the first of them");
    return take_setting(field);
  }

  Result<Phrase> over(std::string_view chords, song::Meter meter, theory::Key key) {
    kept_.phrase.meter = meter;
    kept_.phrase.key = key;
    if (auto error = take_over({"over", chords}))
      return *error;
    return std::move(kept_.phrase);
  }

  Result<KeptPhrase> result() {
    if (kept_.name.empty())
      return TextError{"expected a line `name: ...`"};
    if (kept_.phrase.notes.empty())
      return TextError{"expected a line `line: ...` with at least one note"};
    std::stable_sort(kept_.phrase.notes.begin(), kept_.phrase.notes.end(),
                     [](const PhraseNote& a, const PhraseNote& b) {
                       return std::pair(a.start, a.midi) < std::pair(b.start, b.midi);
                     });
    return std::move(kept_);
  }

private:
  static Problem take_text(const NamedField& field, std::string& text) {
    if (field.value.empty())
      return field.bad_value("expected a text");
    text = field.value;
    return std::nullopt;
  }

  Problem take_tags(const NamedField& field) {
    for (auto rest = field.value; !rest.empty();) {
      const auto end = std::min(rest.find(','), rest.size());
      const auto tag = trimmed(rest.substr(0, end));
      if (tag.empty())
        return field.bad_value("expected tags with commas between them",
                               static_cast<std::size_t>(rest.data() - field.value.data()));
      kept_.tags.emplace_back(tag);
      rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return std::nullopt;
  }

  Problem take_setting(const NamedField& field) {
    if (field.name == "metre")
      return take_metre(field);
    if (field.name == "key")
      return take_key(field);
    if (field.name == "pick-up")
      return take_pick_up(field);
    if (field.name == "over")
      return take_over(field);
    return field.bad_name("expected one of name, about, tags, metre, key, pick-up, over, line");
  }

  Problem take_metre(const NamedField& field) {
    if (seen_.contains("over"))
      return field.bad_name("expected the metre before `over`");
    const auto meter = song::parse_meter(field.value);
    if (!meter)
      return moved(field, meter.error());
    kept_.phrase.meter = *meter;
    return std::nullopt;
  }

  Problem take_key(const NamedField& field) {
    const auto key = theory::parse_key(field.value);
    if (!key)
      return moved(field, key.error());
    kept_.phrase.key = *key;
    return std::nullopt;
  }

  Problem take_pick_up(const NamedField& field) {
    auto rest = field.value;
    const auto value = take_value(rest);
    if (!value)
      return moved(field, value.error());
    if (!rest.empty() || *value > quarter * 8)
      return field.bad_value("expected one note value of at most two whole notes");
    begin_ = -*value;
    return std::nullopt;
  }

  Problem take_over(const NamedField& field) {
    auto rest = field.value;
    const auto at = [&](std::string_view part) {
      return static_cast<std::size_t>(part.data() - field.value.data());
    };
    if (!rest.starts_with('|') || rest.size() < 2 || !rest.ends_with('|'))
      return field.bad_value("expected chords between bar lines: | A7 | D7 |");
    rest.remove_prefix(1);
    auto& phrase = kept_.phrase;
    for (phrase.bars = 0; !rest.empty(); ++phrase.bars) {
      if (phrase.bars == most_phrase_bars)
        return field.bad_value("expected at most 64 bars", at(rest));
      const auto end = rest.find('|');
      if (auto error = take_bar(field, rest.substr(0, end)))
        return error;
      phrase.length += song::bar_length(phrase.meter);
      rest.remove_prefix(end + 1);
    }
    return std::nullopt;
  }

  /// Its signs share the bar evenly; `.` goes on with the chord before.
  Problem take_bar(const NamedField& field, std::string_view bar) {
    std::vector<std::string_view> signs;
    for (auto rest = trimmed(bar); !rest.empty();) {
      const auto end = std::min(rest.find_first_of(" \t"), rest.size());
      signs.push_back(rest.substr(0, end));
      rest = trimmed(rest.substr(end));
    }
    const auto length = song::bar_length(kept_.phrase.meter);
    const auto count = static_cast<std::int64_t>(signs.size());
    const auto bar_at = static_cast<std::size_t>(bar.data() - field.value.data());
    if (count == 0 || length.count % count != 0)
      return field.bad_value(
          "expected chords, or . for the chord before, that share the bar evenly", bar_at);
    auto at = kept_.phrase.length;
    for (const auto sign : signs) {
      if (auto error = take_chord(field, sign, at))
        return error;
      at += length / count;
    }
    return std::nullopt;
  }

  Problem take_chord(const NamedField& field, std::string_view sign, Ticks at) {
    auto& chords = kept_.phrase.chords;
    const auto column = static_cast<std::size_t>(sign.data() - field.value.data());
    if (sign == "." && !chords.empty())
      return std::nullopt;
    if (sign == "N.C.") {
      chords.push_back({at, std::nullopt});
      return std::nullopt;
    }
    const auto chord = theory::parse_chord(sign);
    if (!chord)
      return field.bad_value(chord.error().reason,
                             column + static_cast<std::size_t>(chord.error().column - 1));
    chords.push_back({at, *chord});
    return std::nullopt;
  }

  Problem take_line(const NamedField& field) {
    if (kept_.phrase.chords.empty())
      return field.bad_name("expected a line `over: | ... |` before the first `line`");
    if (!notes_)
      notes_.emplace(kept_.phrase, begin_);
    return notes_->take(field);
  }

  KeptPhrase kept_;
  Ticks begin_;
  std::optional<PhraseNotes> notes_;
  std::set<std::string, std::less<>> seen_;
};

} // namespace

Result<KeptPhrase> read_phrase(std::string_view text) {
  Reader reader;
  if (auto error =
          read_named_lines(text, [&](const NamedField& field) { return reader.take(field); }))
    return *error;
  return reader.result();
}

Result<Phrase> phrase_over(std::string_view chords, song::Meter meter, theory::Key key) {
  return Reader().over(chords, meter, key);
}

} // namespace landfall::trade
