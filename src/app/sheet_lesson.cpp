#include "app/sheet_lesson.hpp"

#include "app/words.hpp"

#include <algorithm>
#include <cmath>
#include <iterator>

namespace landfall::app::sheet {
namespace {

constexpr Style name_style{15, Face::bold}, say_style{13, Face::semibold};
constexpr Style quiet{9.5, Face::regular, 0.15};

bool same_chart(const SceneSheet& a, const SceneSheet& b) {
  return a.song == b.song && a.form->key == b.form->key;
}

bool same_diagrams(const SceneSheet& a, const SceneSheet& b) {
  const auto& [form_a, x, target_a, labels_a, diagrams_a] = a.place;
  const auto& [form_b, y, target_b, labels_b, diagrams_b] = b.place;
  return same_chart(a, b) && x.home == y.home && x.set == y.set && x.over == y.over &&
         target_a == target_b && labels_a == labels_b && diagrams_a == diagrams_b;
}

std::string trade_words(const practice::Scene& scene) {
  std::string words;
  for (const auto& word : {scene.kind, scene.density})
    if (!word.empty())
      words += (words.empty() ? ": " : ", ") + word;
  return scene.room == "trade" ? "trade phrases" + words : "";
}

std::string loop_words(const practice::Scene& scene) {
  if (!scene.loop || !*scene.loop)
    return "";
  const auto& range = **scene.loop;
  return range.first == range.last
             ? "loop bar " + std::to_string(range.first)
             : "loop bars " + std::to_string(range.first) + "–" + std::to_string(range.last);
}

std::string joined(const std::vector<std::string>& parts) {
  std::string line;
  for (const auto& part : parts)
    if (!part.empty())
      line += (line.empty() ? "" : "  ·  ") + part;
  return line;
}

std::vector<std::string> facts(const SceneSheet& sheet) {
  const auto& scene = sheet.scene;
  if (!sheet.song)
    return {trade_words(scene)};
  const auto& setting = sheet.place.setting;
  return {
      joined({sheet.song->title.empty() ? scene.song : sheet.song->title,
              "key of " + key_words(sheet.form->key),
              std::to_string(std::lround(sheet.beats_per_minute)) + " beats a minute",
              feel_words(scene.feel.empty() ? sheet.song->feel : scene.feel), loop_words(scene)}),
      joined({place_words(setting),
              setting.set.kind == theory::NoteSet::Kind::fitting
                  ? std::string("for each chord the set that fits it")
                  : set_words(setting, std::nullopt),
              target_words(sheet.place.target), trade_words(scene)})};
}

Block head(std::size_t number, const SceneSheet& sheet, const std::string& earlier, double room,
           const render::TextMetrics& metrics) {
  Pen pen(metrics);
  const auto& scene = sheet.scene;
  pen.line(0, 0, room, 0, 0.6);
  const auto name = std::to_string(number) + "  " + scene.name;
  pen.write(name_style, 0, 21, pen.shortened(name_style, name, room));
  double y = 41;
  if (!scene.say.empty())
    y = pen.write_wrapped(say_style, 0, y, scene.say, room) + 1;
  for (const auto& line : facts(sheet))
    if (!line.empty())
      y = pen.write_wrapped(quiet, 0, y, line, room, 1.45);
  if (!earlier.empty())
    y = pen.write_wrapped(quiet, 0, y, earlier, room, 1.45);
  return {"scene " + std::to_string(number), pen.take(), y - quiet.size, 20, sheet.song != nullptr};
}

/// The number, from 1, of an earlier scene of which `same` holds; 0 if there is none.
template <typename Same>
std::size_t earlier_scene(const std::vector<SceneSheet>& scenes, std::size_t at, Same same) {
  for (std::size_t i = 0; i < at; ++i)
    if (scenes[i].song && scenes[at].song && same(scenes[i], scenes[at]))
      return i + 1;
  return 0;
}

std::string earlier_words(std::size_t chart, std::size_t diagrams) {
  if (chart == 0)
    return "";
  if (diagrams == 0)
    return "Changes as in scene " + std::to_string(chart) + ".";
  return "Changes and diagrams as in scene " + std::to_string(diagrams) + ".";
}

} // namespace

Sheet lesson_sheet(const practice::Lesson& lesson, const std::vector<SceneSheet>& scenes,
                   const Paper& paper, const render::TextMetrics& metrics) {
  const double room = paper.room();
  const auto title = lesson.title.empty() ? std::string("Lesson") : lesson.title;
  std::vector<std::string> lines{lesson.about};
  if (!scenes.empty() && scenes.front().song)
    lines.push_back(instrument_words(*scenes.front().place.setting.instrument));
  std::vector<Block> blocks{title_block(title, lines, room, metrics)};
  for (std::size_t i = 0; i < scenes.size(); ++i) {
    const auto chart = earlier_scene(scenes, i, same_chart);
    const auto diagrams = earlier_scene(scenes, i, same_diagrams);
    blocks.push_back(head(i + 1, scenes[i], earlier_words(chart, diagrams), room, metrics));
    blocks.back().with_next = scenes[i].song && diagrams == 0;
    if (!scenes[i].song)
      continue;
    if (chart == 0)
      std::ranges::move(chart_blocks(*scenes[i].song, *scenes[i].form, room, metrics),
                        std::back_inserter(blocks));
    if (diagrams != 0)
      continue;
    blocks.push_back(set_block(scenes[i].place, room, metrics));
    std::ranges::move(chord_blocks(scenes[i].place, room, metrics), std::back_inserter(blocks));
  }
  blocks.push_back(cautions(room, metrics));
  return flow(title, std::move(blocks), paper, metrics);
}

} // namespace landfall::app::sheet
