#include "png.hpp"

#ifdef EGGFALL_WITH_RSVG

#include "eggfall/error.hpp"

#include <cairo.h>
#include <librsvg/rsvg.h>

#include <memory>

namespace eggfall::cli {
namespace {

template <auto release> struct Releaser {
  template <typename T> void operator()(T* object) const { release(object); }
};

cairo_status_t append(void* text, const unsigned char* bytes, unsigned size) {
  static_cast<std::string*>(text)->append(reinterpret_cast<const char*>(bytes), size);
  return CAIRO_STATUS_SUCCESS;
}

} // namespace

std::optional<std::string> png_of(const std::string& svg, int width) {
  const std::unique_ptr<RsvgHandle, Releaser<g_object_unref>> handle(
      rsvg_handle_new_from_data(reinterpret_cast<const guint8*>(svg.data()), svg.size(), nullptr));
  gboolean has_box = FALSE;
  RsvgRectangle box{};
  if (handle)
    rsvg_handle_get_intrinsic_dimensions(handle.get(), nullptr, nullptr, nullptr, nullptr, &has_box,
                                         &box);
  if (has_box == FALSE || !(box.width > 0) || !(box.height > 0))
    throw CalculationError("a figure that is no SVG");
  const RsvgRectangle all{0, 0, static_cast<double>(width), width * box.height / box.width};
  const std::unique_ptr<cairo_surface_t, Releaser<cairo_surface_destroy>> surface(
      cairo_image_surface_create(CAIRO_FORMAT_ARGB32, width, static_cast<int>(all.height + 0.5)));
  const std::unique_ptr<cairo_t, Releaser<cairo_destroy>> context(cairo_create(surface.get()));
  std::string png;
  if (rsvg_handle_render_document(handle.get(), context.get(), &all, nullptr) == FALSE ||
      cairo_surface_write_to_png_stream(surface.get(), append, &png) != CAIRO_STATUS_SUCCESS)
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
