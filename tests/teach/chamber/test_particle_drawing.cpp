#include "teach/chamber/particle_drawing.hpp"

#include "support/support.hpp"

#include <pugixml.hpp>

#include <cmath>
#include <sstream>
#include <string>
#include <string_view>

using namespace eggfall;

namespace {

Particle egg_of(ParticleKind kind) {
  Particle egg;
  egg.kind = kind;
  egg.centre = {1'200.5, 340};
  egg.length_um = 86;
  egg.width_um = 44;
  egg.angle = std::acos(0.0); // a right angle
  egg.look = 3;
  return egg;
}

std::string drawn(const Particle& particle) {
  pugi::xml_document document;
  add_particle(document.append_child("svg"), particle);
  std::ostringstream text;
  document.save(text);
  return text.str();
}

} // namespace

TEST_CASE("Every kind of particle has a class of its own, without spaces", "[chamber]") {
  CHECK(kind_class(ParticleKind::strongyle_type) == "strongyle-type-egg");
  CHECK(kind_class(ParticleKind::nematodirus_like) == "Nematodirus-like-egg");
  CHECK(kind_class(ParticleKind::strongyloides_like) == "Strongyloides-like-egg");
  CHECK(kind_class(ParticleKind::air_bubble) == "air-bubble");
  CHECK(kind_class(ParticleKind::plant_bit) == "plant-bit");
}

TEST_CASE("A particle is drawn where it lies and turned as it lies", "[chamber]") {
  for (const ParticleKind kind : particle_kinds) {
    INFO(to_string(kind));
    pugi::xml_document document;
    const pugi::xml_node group = add_particle(document.append_child("svg"), egg_of(kind));
    CHECK(group.parent() == document.child("svg"));
    CHECK(group.attribute("class").value() == kind_class(kind));
    CHECK(std::string_view(group.attribute("transform").value()) ==
          "translate(1200.5 340) rotate(90)");
    CHECK(group.first_child());
  }
}

TEST_CASE("The wall of a strongyle-type egg ends where the egg does", "[chamber]") {
  pugi::xml_document document;
  const pugi::xml_node shell =
      add_particle(document.append_child("svg"), egg_of(ParticleKind::strongyle_type))
          .child("ellipse");
  const double wall = shell.attribute("stroke-width").as_double();
  // A line is drawn half to either side: half the length and the width of 86 by 44 micrometres.
  CHECK_THAT(shell.attribute("rx").as_double() + wall / 2,
             Catch::WithinAbs(43, support::many_steps));
  CHECK_THAT(shell.attribute("ry").as_double() + wall / 2,
             Catch::WithinAbs(22, support::many_steps));
  CHECK(shell.attribute("fill-opacity").as_double() < 1); // what lies under it shines through
}

TEST_CASE("A particle's details come from its look and from nothing else", "[chamber]") {
  for (const ParticleKind kind : particle_kinds) {
    INFO(to_string(kind));
    const Particle egg = egg_of(kind);
    Particle other = egg;
    other.look = 4;
    CHECK(drawn(egg) == drawn(egg));
    CHECK(drawn(egg) != drawn(other));
  }
}
