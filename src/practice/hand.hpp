#pragma once

#include "neck/view.hpp"

namespace landfall::practice {

/// The place asked for; where it does not exist in this key on this instrument, its shape
/// elsewhere, else the place nearest to its fret.
neck::Position home_of(const neck::Instrument& instrument, theory::Key key,
                       const neck::PlaceRequest& request);

/// What asks for this place again.
neck::PlaceRequest request_for(const neck::Position& place);

/// The hand stays where it is when the key moves: the new key's place nearest to `home`, by the
/// same shape if that is as near. A place asked for by its fret stays exactly.
neck::PlaceRequest kept_place(const neck::Instrument& instrument, const neck::Position& home,
                              theory::Key key);

/// The same hand for a bar in another key of the song.
neck::Setting in_key(neck::Setting setting, theory::Key key);

} // namespace landfall::practice
