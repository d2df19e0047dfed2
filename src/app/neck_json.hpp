#pragma once

#include "neck/view.hpp"

#include <nlohmann/json.hpp>

namespace landfall::app {

using Json = nlohmann::ordered_json;

/// Notes are ASCII without octave, strings numbered as players do, null where an instrument has no
/// strings or shapes have no meaning.
Json json_of(const neck::Position& position);
Json json_of(const std::optional<neck::ChordShape>& shape);
Json json_of(const neck::NeckNote& note);
Json json_of_landing(const neck::NeckNote& note);
Json json_of(const neck::Group& group);
Json json_of(const neck::Grip& grip);

/// Everything `neck --json` says.
Json json_of(const neck::Setting& setting, const std::optional<theory::Chord>& chord,
             const neck::NeckView& view);

} // namespace landfall::app
