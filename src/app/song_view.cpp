#include "app/song_view.hpp"

#include <algorithm>

namespace landfall::app {

SongView::SongView(const song::Form& form, neck::Setting setting, neck::Target target)
    : form_(form), setting_(std::move(setting)), target_(std::move(target)) {
  if (!target_.guide_line)
    return;
  std::vector<std::optional<theory::Chord>> chords;
  for (const auto& bar : form_.bars)
    for (const auto& chord : bar.chords)
      chords.push_back(chord.chord);
  line_ = neck::guide_line(setting_, chords);
}

std::size_t SongView::index_of(const song::Bar& bar, const song::ChordAt& chord) const {
  std::size_t index = 0;
  for (const auto& before : form_.bars) {
    if (before.number == bar.number)
      break;
    index += before.chords.size();
  }
  return index + static_cast<std::size_t>(&chord - bar.chords.data());
}

neck::NeckView SongView::at(const song::Bar& bar, const song::ChordAt& chord,
                            const neck::ViewOptions& options) const {
  auto view = neck::view(in_key(setting_, bar.key), chord.chord, options);
  neck::aim(view.notes, target_, line_.empty() ? std::nullopt : line_[index_of(bar, chord)]);
  return view;
}

std::vector<neck::NeckNote> SongView::landing(const song::Bar& bar,
                                              const song::ChordAt& chord) const {
  if (!chord.chord)
    return {};
  auto notes = at(bar, chord).notes;
  std::erase_if(notes, [](const auto& note) { return note.role != neck::Role::landing; });
  return notes;
}

} // namespace landfall::app
