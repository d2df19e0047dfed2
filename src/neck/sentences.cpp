#include "neck/text.hpp"
#include "neck/wording.hpp"

#include <algorithm>

namespace landfall::neck {
namespace {

std::string where(const NeckNote& note) {
  if (!note.fret)
    return "octave " + std::to_string(note.midi.number / 12 - 1);
  const auto string = "string " + std::to_string(note.string);
  if (*note.fret == 0)
    return string + " open";
  return string + " fret " + std::to_string(*note.fret) + (note.reach ? " by reach" : "");
}

/// One line for each degree of a role: `Third, C sharp: string 5 fret 4, string 3 fret 6.`
std::string lines(const std::vector<NeckNote>& notes, Role role) {
  std::vector<theory::Degree> degrees;
  for (const auto& note : notes)
    if (note.role == role &&
        std::find(degrees.begin(), degrees.end(), note.degree) == degrees.end())
      degrees.push_back(note.degree);
  std::sort(degrees.begin(), degrees.end(),
            [](auto a, auto b) { return half_steps(a) < half_steps(b); });
  std::string text;
  for (const auto degree : degrees) {
    std::string places, name;
    for (const auto& note : notes)
      if (note.role == role && note.degree == degree) {
        name = spoken(note.note);
        places.append(places.empty() ? "" : ", ").append(where(note));
        places.append(note.in_grip ? " in the grip" : "");
      }
    auto word = spoken(degree);
    word.front() = static_cast<char>(word.front() - 'a' + 'A');
    text.append(word).append(", ").append(name).append(": ").append(places).append(".\n");
  }
  return text;
}

std::string section(const std::string& title, const std::string& content) {
  return content.empty() ? "" : title + "\n" + content;
}

std::string group_lines(const NeckView& view) {
  std::string text;
  for (const auto& group : view.groups) {
    text += std::string(group.form) + " ";
    if (group.strings[0] > 0) {
      text += "on strings";
      for (const int string : group.strings)
        text += ' ' + std::to_string(string);
      text += ", frets " + frets_text(group);
    } else {
      text += "on";
      for (const int pitch : group.pitches)
        text += ' ' + ascii(theory::MidiNote{pitch});
    }
    text += group.in_grip ? ", in the grip.\n" : ".\n";
  }
  return text;
}

std::string grip_lines(const NeckView& view) {
  std::string text;
  for (const auto& grip : view.grips) {
    text += grip.name + ", from the lowest string:";
    for (const auto& fret : grip.frets)
      text += ' ' +
              (!fret        ? std::string("muted")
               : *fret == 0 ? "open"
                            : std::to_string(*fret)) +
              (&fret == &grip.frets.back() ? "" : ",");
    text += ".\n";
  }
  return text;
}

} // namespace

std::string sentences(const Setting& setting, const std::optional<theory::Chord>& chord,
                      const NeckView& view) {
  std::string text;
  for (const auto& line : headings(setting, chord, view))
    text += line + ".\n";
  const bool none_in_set =
      std::none_of(view.notes.begin(), view.notes.end(),
                   [](const NeckNote& note) { return note.role == Role::landing && note.in_set; });
  const auto* landing = none_in_set ? "No chord tone is in the set; land on:" : "Land on:";
  return text + section(landing, lines(view.notes, Role::landing)) +
         section("Chord tones outside the set:", lines(view.notes, Role::chord)) +
         section("Other notes of the set:", lines(view.notes, Role::set)) +
         section("Groups:", group_lines(view)) + section("Grips:", grip_lines(view));
}

} // namespace landfall::neck
