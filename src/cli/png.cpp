#include "cli/png.hpp"

#ifdef EGGFALL_WITH_RSVG

#include "eggfall/base/error.hpp"

#include <cairo.h>
#include <dlfcn.h>
#include <librsvg/rsvg.h>

#include <algorithm>
#include <cmath>
#include <memory>

namespace eggfall::cli {
namespace {

/// The libraries that draw, loaded with the first picture: linked, they would make every start of
/// the program several times as long.
class DrawingLibraries {
public:
  bool loaded() const { return library_ != nullptr; }

  /// A function of librsvg or of what it rests on (cairo, GLib).
  template <typename Function> Function* find(const char* name) const {
    auto* const function = reinterpret_cast<Function*>(dlsym(library_, name));
    if (function == nullptr)
      throw CalculationError(std::string("a drawing library without ") + name);
    return function;
  }

private:
  // Never closed: GLib does not bear it.
  void* library_ = dlopen("librsvg-2.so.2", RTLD_NOW | RTLD_LOCAL);
};

template <typename T> using Owned = std::unique_ptr<T, void (*)(T*)>;

cairo_status_t append(void* text, const unsigned char* bytes, unsigned size) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), size);
  return CAIRO_STATUS_SUCCESS;
}

} // namespace

std::optional<std::string> png_of(const std::string& svg, int width) {
  static const DrawingLibraries libraries;
  if (!libraries.loaded())
    return std::nullopt;
  const std::unique_ptr<RsvgHandle, decltype(g_object_unref)*> handle(
      libraries.find<decltype(rsvg_handle_new_from_data)>("rsvg_handle_new_from_data")(
          reinterpret_cast<const guint8*>(svg.data()), svg.size(), nullptr),
      libraries.find<decltype(g_object_unref)>("g_object_unref"));
  gboolean has_box = FALSE;
  RsvgRectangle box{};
  if (handle)
    libraries.find<decltype(rsvg_handle_get_intrinsic_dimensions)>(
        "rsvg_handle_get_intrinsic_dimensions")(handle.get(), nullptr, nullptr, nullptr, nullptr,
                                                &has_box, &box);
  if (has_box == FALSE || !(box.width > 0) || !(box.height > 0))
    throw CalculationError("a figure that is no SVG");
  constexpr double highest = 32'000; // cairo draws no more than 32,767 pixels
  const double scale = std::min(width / box.width, highest / box.height);
  const RsvgRectangle all{0, 0, std::max(1.0, std::round(scale * box.width)), scale * box.height};
  const Owned<cairo_surface_t> surface(
      libraries.find<decltype(cairo_image_surface_create)>("cairo_image_surface_create")(
          CAIRO_FORMAT_ARGB32, static_cast<int>(std::lround(all.width)),
          static_cast<int>(std::lround(all.height))),
      libraries.find<decltype(cairo_surface_destroy)>("cairo_surface_destroy"));
  const Owned<cairo_t> context(
      libraries.find<decltype(cairo_create)>("cairo_create")(surface.get()),
      libraries.find<decltype(cairo_destroy)>("cairo_destroy"));
  const auto draw =
      libraries.find<decltype(rsvg_handle_render_document)>("rsvg_handle_render_document");
  const auto write = libraries.find<decltype(cairo_surface_write_to_png_stream)>(
      "cairo_surface_write_to_png_stream");
  std::string png;
  if (draw(handle.get(), context.get(), &all, nullptr) == FALSE ||
      write(surface.get(), append, &png) != CAIRO_STATUS_SUCCESS)
    throw CalculationError("a figure that cannot be drawn as PNG");
  return png;
}

} // namespace eggfall::cli

#else

namespace eggfall::cli {

std::optional<std::string> png_of(const std::string&, int) {
  return std::nullopt;
}

} // namespace eggfall::cli

#endif
