#pragma once

#include "app/take_file.hpp"
#include "ear/verdict.hpp"
#include "practice/session.hpp"
#include "song/timeline.hpp"

#include <nlohmann/json.hpp>

namespace landfall::app {

/// `landed`, `late`, `off`, `rest`.
const char* name_of(ear::Verdict verdict);
/// `step`, `half step`, `common tone`, `leap`, `enclosure`.
const char* name_of(ear::Approach approach);
/// `landing`, `set`, `approach`, `outside`.
const char* name_of(ear::NoteClass note_class);

/// Time from the first bar, at the tempos of a timeline.
song::TempoMap take_tempo(const practice::Timeline& timeline);

/// What `review --json` says. Times are in seconds from the first bar.
/// The same with a `trade` of its turns, where there was one.
nlohmann::ordered_json review_json(const Reviewed& reviewed, const song::TempoMap& tempo);

nlohmann::ordered_json review_json(const ear::Judgement& judgement, const song::TempoMap& tempo);

} // namespace landfall::app
