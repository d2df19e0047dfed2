#pragma once

#include "neck/view.hpp"
#include "practice/choice.hpp"
#include "render/frame.hpp"
#include "song/performance.hpp"

#include <string>

/// What the window says in words, with the real signs.
namespace landfall::app {

render::ChordText chord_text(const std::optional<theory::Chord>& chord);

/// `E♭` or `E♭ minor`.
std::string key_words(theory::Key key);

/// `C shape · frets 3–6`, `frets 3–6`, `C4–E5`.
std::string place_words(const neck::Setting& setting);

/// The same in plain letters, for a terminal.
std::string plain_place(const neck::Setting& setting);

/// `major pentatonic over the chord`. The fitting set is called by what it is over `chord`.
std::string set_words(const neck::Setting& setting, const std::optional<theory::Chord>& chord);

/// `thirds only`; empty for every landing note.
std::string target_words(const neck::Target& target);

/// `straight eighths`
std::string feel_words(const std::string& feel);

/// `Guitar in drop D`: with a capital letter.
std::string capital(std::string words);

/// `bar 5 of 12`
std::string bar_words(const song::Moment& moment);

} // namespace landfall::app
