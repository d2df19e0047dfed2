#include "practice/lesson.hpp"
#include "practice/place_text.hpp"
#include "theory/named_lines.hpp"
#include "theory/words.hpp"

#include <algorithm>

namespace landfall::practice {
namespace {

using Problem = std::optional<TextError>;

constexpr std::size_t most_scenes = 500;
constexpr std::size_t longest_value = 1000;

/// The error of a value that another reader refused, at its place in the file.
TextError placed(const NamedField& field, const TextError& error) {
  return field.bad_value(error.reason, static_cast<std::size_t>(std::max(error.column - 1, 0)));
}

template <typename Value>
Problem take_value(const NamedField& field, Result<Value> read, std::optional<Value>& into) {
  if (!read)
    return placed(field, read.error());
  into = std::move(*read);
  return std::nullopt;
}

/// A value that was read with its place in the file.
template <typename Value> Problem take_field(Result<Value> read, std::optional<Value>& into) {
  if (!read)
    return read.error();
  into = std::move(*read);
  return std::nullopt;
}

Problem read_place(const NamedField& field, Scene& scene) {
  return take_field(practice::read_place(field), scene.place);
}

/// A set's name, and after it `over the key` or `over the chord` where that is not as usual.
Problem read_set(const NamedField& field, Scene& scene, const theory::SetBook& sets) {
  auto name = field.value;
  scene.over.reset();
  for (const auto over : {theory::Over::key, theory::Over::chord}) {
    const std::string_view words = over == theory::Over::key ? " over the key" : " over the chord";
    if (!name.ends_with(words))
      continue;
    name = trimmed(name.substr(0, name.size() - words.size()));
    scene.over = over;
  }
  if (auto problem = take_value(field, sets.find(name), scene.set))
    return problem;
  if (!scene.over)
    scene.over = theory::usual_over(*scene.set);
  return std::nullopt;
}

Problem read_loop(const NamedField& field, Scene& scene) {
  if (field.value == "none") {
    scene.loop = std::optional<BarRange>{};
    return std::nullopt;
  }
  const auto dash = field.value.find('-');
  NamedField first = field, last = field;
  first.value = trimmed(field.value.substr(0, dash));
  if (dash != std::string_view::npos) {
    last.value = trimmed(field.value.substr(dash + 1));
    last.value_column += static_cast<int>(dash) + 1;
  } else {
    last.value = first.value;
  }
  const auto from = whole_number(first, 1, 9999), to = whole_number(last, 1, 9999);
  if (!from || !to)
    return field.bad_value("expected bars such as `1-4`, or `none`");
  scene.loop = BarRange{std::min(*from, *to), std::max(*from, *to)};
  return std::nullopt;
}

/// Calls `take(word)` for each of the words between commas.
template <typename Take> Problem each_word(const NamedField& field, Take take) {
  auto rest = field.value;
  for (bool more = true; more;) {
    const auto comma = rest.find(',');
    more = comma != std::string_view::npos;
    if (const auto word = trimmed(rest.substr(0, comma)); !take(word))
      return field.bad_value("does not know '" + std::string(word.substr(0, 40)) + "' here",
                             static_cast<std::size_t>(rest.data() - field.value.data()));
    rest.remove_prefix(more ? comma + 1 : rest.size());
  }
  return std::nullopt;
}

Problem read_mute(const NamedField& field, Scene& scene) {
  std::array<bool, band::all_parts.size()> muted{};
  constexpr std::array<std::string_view, 4> names{"drums", "bass", "comping", "click"};
  const auto problem = each_word(field, [&](std::string_view word) {
    const auto found = std::find(names.begin(), names.end(), word);
    if (found != names.end())
      muted[static_cast<std::size_t>(found - names.begin())] = true;
    return found != names.end() || word == "none";
  });
  scene.muted = muted;
  return problem;
}

Problem read_room(const NamedField& field, Scene& scene) {
  return each_word(field, [&](std::string_view word) {
    const auto is = [&](auto... names) { return ((word == names) || ...); };
    if (is("jam", "trade"))
      scene.room = word;
    else if (is("sparse", "medium", "dense"))
      scene.density = word;
    else if (is("echo", "moved", "rhythm", "free"))
      scene.kind = word;
    else
      return false;
    return true;
  });
}

Problem read_board(const NamedField& field, Scene& scene) {
  if (field.value != "position" && field.value != "whole" && field.value != "only")
    return field.bad_value("expected position, whole or only");
  scene.whole_board = field.value == "whole";
  scene.neck_only = field.value == "only";
  return std::nullopt;
}

Problem read_tempo(const NamedField& field, Scene& scene) {
  return take_field(whole_number(field, 20, 400), scene.tempo);
}

class Reader {
public:
  explicit Reader(const theory::SetBook& sets) : sets_(sets) {}

  Result<Lesson> read(std::string_view text) {
    if (auto problem = read_named_lines(text, [&](const auto& field) { return take(field); }))
      return *problem;
    if (lesson_.scenes.empty())
      return TextError{"expected a scene: a line of the form `scene: name`", 1, 1};
    return std::move(lesson_);
  }

private:
  Problem take(const NamedField& field) {
    if (field.value.empty())
      return field.bad_value("expected a value after the colon");
    if (field.value.size() > longest_value)
      return field.bad_value("a value has at most 1000 characters", longest_value);
    if (field.name == "scene")
      return begin(field);
    return lesson_.scenes.empty() ? take_head(field) : take_scene(field, lesson_.scenes.back());
  }

  Problem begin(const NamedField& field) {
    if (lesson_.scenes.size() == most_scenes)
      return field.bad_name("a lesson has at most 500 scenes");
    lesson_.scenes.emplace_back();
    lesson_.scenes.back().name = field.value;
    lesson_.scenes.back().line = field.line;
    return std::nullopt;
  }

  Problem take_head(const NamedField& field) {
    auto* text = field.name == "title"        ? &lesson_.title
                 : field.name == "about"      ? &lesson_.about
                 : field.name == "instrument" ? &lesson_.instrument
                                              : nullptr;
    if (text == nullptr)
      return field.bad_name("expected title, about, instrument or the first scene, not '" +
                            std::string(field.name.substr(0, 40)) + "'");
    *text = field.value;
    return std::nullopt;
  }

  Problem take_scene(const NamedField& field, Scene& scene) {
    if (field.name == "say")
      return scene.say = field.value, std::nullopt;
    if (field.name == "note")
      return scene.notes.emplace_back(field.value), std::nullopt;
    if (field.name == "song")
      return scene.song = field.value, std::nullopt;
    if (field.name == "feel")
      return scene.feel = field.value, std::nullopt;
    if (field.name == "key")
      return take_value(field, theory::parse_key(field.value), scene.key);
    if (field.name == "place")
      return read_place(field, scene);
    if (field.name == "set")
      return read_set(field, scene, sets_);
    if (field.name == "target")
      return take_value(field, neck::parse_target(field.value), scene.target);
    if (field.name == "tempo")
      return read_tempo(field, scene);
    return take_view(field, scene);
  }

  Problem take_view(const NamedField& field, Scene& scene) const {
    if (field.name == "loop")
      return read_loop(field, scene);
    if (field.name == "mute")
      return read_mute(field, scene);
    if (field.name == "room")
      return read_room(field, scene);
    if (field.name == "board")
      return read_board(field, scene);
    if (field.name == "show")
      return take_value(field, neck::parse_shown(field.value), scene.show);
    if (field.name == "labels")
      return take_value(field, neck::parse_label_kind(field.value), scene.labels);
    return field.bad_name("unknown name '" + std::string(field.name.substr(0, 40)) +
                          "': expected scene, say, note, song, key, place, set, target, tempo, "
                          "loop, feel, mute, show, labels, board or room");
  }

  const theory::SetBook& sets_;
  Lesson lesson_;
};

} // namespace

Result<Lesson> read_lesson(std::string_view text, const theory::SetBook& sets) {
  return Reader(sets).read(text);
}

} // namespace landfall::practice
