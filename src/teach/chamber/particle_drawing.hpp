#pragma once

#include "teach/chamber/counting_chamber.hpp"

#include <pugixml.hpp>

#include <string>

namespace eggfall {

/// Draws a particle where it lies, in micrometres. What lies under an egg shines through. Details,
/// such as the number of cells, come from the particle's `look`; the class is kind_class().
pugi::xml_node add_particle(pugi::xml_node parent, const Particle& particle);

/// "strongyle-type-egg", ...
std::string kind_class(ParticleKind kind);

} // namespace eggfall
