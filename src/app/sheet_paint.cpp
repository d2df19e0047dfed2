#include "app/sheet_paint.hpp"

#include "app/sheet_pen.hpp"
#include "render/fonts.hpp"

#include <array>
#include <cairo-ft.h>
#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <memory>
#include <numbers>
#include <span>
#include <vector>

namespace landfall::app::sheet {
namespace {

constexpr double bold_sign_stroke =
    0.036; ///< Of the size: signs beside bold letters are thickened.

struct Destroy {
  void operator()(cairo_surface_t* surface) const { cairo_surface_destroy(surface); }
  void operator()(cairo_t* context) const { cairo_destroy(context); }
  void operator()(cairo_font_face_t* face) const { cairo_font_face_destroy(face); }
};
using Surface = std::unique_ptr<cairo_surface_t, Destroy>;
using Context = std::unique_ptr<cairo_t, Destroy>;
using FontFace = std::unique_ptr<cairo_font_face_t, Destroy>;

/// Never closed: cairo keeps faces for as long as it likes.
FT_Library library() {
  static const FT_Library opened = [] {
    FT_Library made = nullptr;
    FT_Init_FreeType(&made);
    return made;
  }();
  return opened;
}

struct OpenFace {
  FT_Face file = nullptr; ///< Owned by `face`.
  FontFace face;
};

cairo_user_data_key_t file_key;

/// Empty where it cannot be read.
OpenFace open_face(const std::string& path) {
  OpenFace open;
  if (library() == nullptr || FT_New_Face(library(), path.c_str(), 0, &open.file) != 0)
    return {};
  open.face.reset(cairo_ft_font_face_create_for_ft_face(open.file, FT_LOAD_NO_HINTING));
  const auto close = [](void* file) { FT_Done_Face(static_cast<FT_Face>(file)); };
  if (cairo_font_face_set_user_data(open.face.get(), &file_key, open.file, close) !=
      CAIRO_STATUS_SUCCESS) {
    FT_Done_Face(open.file);
    return {};
  }
  return open;
}

using OpenFaces = std::array<OpenFace, render::face_files.size()>;

/// Opens all; the reason for a failure, else an empty text.
std::string open_faces(const std::string& folder, OpenFaces& faces) {
  for (std::size_t i = 0; i < faces.size(); ++i) {
    const auto path = folder + "/" + render::face_files[i];
    faces[i] = open_face(path);
    if (!faces[i].face)
      return "cannot read the font " + path;
  }
  return "";
}

/// Where one character begins in its run, and which it is.
struct Character {
  std::string_view bytes;
  FT_ULong code = 0;
};

std::vector<Character> characters(std::string_view text) {
  std::vector<Character> all;
  while (!text.empty()) {
    const auto lead = static_cast<unsigned char>(text.front());
    const std::size_t length = std::min<std::size_t>(lead < 0x80   ? 1
                                                     : lead < 0xE0 ? 2
                                                     : lead < 0xF0 ? 3
                                                                   : 4,
                                                     text.size());
    FT_ULong code = length == 1 ? lead : lead & (0x7FU >> length);
    for (std::size_t i = 1; i < length; ++i)
      code = (code << 6U) | (static_cast<unsigned char>(text[i]) & 0x3FU);
    all.push_back({text.substr(0, length), code});
    text.remove_prefix(length);
  }
  return all;
}

class Painter {
public:
  Painter(cairo_t* context, const OpenFaces& faces, const render::TextMetrics& metrics)
      : context_(context), faces_(faces), metrics_(metrics) {
    cairo_set_line_cap(context, CAIRO_LINE_CAP_BUTT);
  }

  void paint(const Page& page) {
    for (const auto& mark : page.marks)
      std::visit([&](const auto& each) { paint(each); }, mark);
  }

private:
  void ink(double grey) { cairo_set_source_rgb(context_, grey, grey, grey); }

  void paint(const Box& box) {
    ink(box.grey);
    cairo_rectangle(context_, box.x, box.y, box.width, box.height);
    cairo_fill(context_);
  }
  void paint(const Line& line) {
    ink(line.grey);
    cairo_set_line_width(context_, line.width);
    cairo_move_to(context_, line.x1, line.y1);
    cairo_line_to(context_, line.x2, line.y2);
    cairo_stroke(context_);
  }
  void paint(const Disc& disc) {
    cairo_new_sub_path(context_);
    cairo_arc(context_, disc.x, disc.y, disc.radius, 0, 2 * std::numbers::pi);
    ink(disc.fill);
    cairo_fill_preserve(context_);
    if (disc.stroke > 0) {
      const std::array<double, 2> dashes{1.9, 1.3};
      ink(0);
      cairo_set_line_width(context_, disc.stroke);
      cairo_set_dash(context_, dashes.data(), disc.dashed ? 2 : 0, 0);
      cairo_stroke_preserve(context_);
      cairo_set_dash(context_, nullptr, 0, 0);
    }
    cairo_new_path(context_);
  }
  void paint(const Curve& curve) {
    const auto& p = curve.points;
    ink(0);
    cairo_set_line_width(context_, curve.width);
    cairo_move_to(context_, p[0], p[1]);
    cairo_curve_to(context_, p[2], p[3], p[4], p[5], p[6], p[7]);
    cairo_stroke(context_);
  }

  /// Each character where the layout measured it, with its text kept beside its glyph.
  void paint(const Words& words) {
    const auto& face = faces_[static_cast<std::size_t>(words.face)];
    std::vector<cairo_glyph_t> glyphs;
    std::vector<cairo_text_cluster_t> clusters;
    std::size_t length = 0;
    for (const auto& character : characters(words.text)) {
      const double before = length == 0 ? 0
                                        : run_width(metrics_, words.face, words.size,
                                                    std::string_view(words.text).substr(0, length));
      glyphs.push_back({FT_Get_Char_Index(face.file, character.code), words.x + before, words.y});
      clusters.push_back({static_cast<int>(character.bytes.size()), 1});
      length += character.bytes.size();
    }
    ink(words.grey);
    cairo_set_font_face(context_, face.face.get());
    cairo_set_font_size(context_, words.size);
    cairo_show_text_glyphs(context_, words.text.data(), static_cast<int>(words.text.size()),
                           glyphs.data(), static_cast<int>(glyphs.size()), clusters.data(),
                           static_cast<int>(clusters.size()), cairo_text_cluster_flags_t{});
    if (words.face == Face::music_bold)
      thicken(glyphs, words.size);
  }
  void thicken(const std::vector<cairo_glyph_t>& glyphs, double size) {
    cairo_glyph_path(context_, glyphs.data(), static_cast<int>(glyphs.size()));
    cairo_set_line_width(context_, size * bold_sign_stroke);
    cairo_stroke(context_);
  }

  cairo_t* context_;
  const OpenFaces& faces_;
  const render::TextMetrics& metrics_;
};

cairo_status_t append(void* bytes, const unsigned char* data, unsigned int length) {
  static_cast<std::string*>(bytes)->append(reinterpret_cast<const char*>(data), length);
  return CAIRO_STATUS_SUCCESS;
}

/// Paints pages on a surface; the reason for a failure, else an empty text.
std::string paint(cairo_surface_t* surface, std::span<const Page> pages, const OpenFaces& faces,
                  const render::TextMetrics& metrics) {
  const Context context(cairo_create(surface));
  for (const auto& page : pages) {
    Painter(context.get(), faces, metrics).paint(page);
    cairo_show_page(context.get());
  }
  cairo_surface_finish(surface);
  const auto status = cairo_status(context.get());
  return status == CAIRO_STATUS_SUCCESS ? "" : cairo_status_to_string(status);
}

} // namespace

Painted pdf_of(const Sheet& sheet, const Faces& faces) {
  OpenFaces opened;
  Painted painted;
  if (painted.error = open_faces(faces.folder, opened); !painted.error.empty())
    return painted;
  const Surface surface(cairo_pdf_surface_create_for_stream(append, &painted.bytes,
                                                            sheet.paper.width, sheet.paper.height));
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_TITLE, sheet.title.c_str());
  cairo_pdf_surface_set_metadata(surface.get(), CAIRO_PDF_METADATA_CREATOR, "Landfall");
  painted.error = paint(surface.get(), sheet.pages, opened, *faces.metrics);
  return painted;
}

Painted svg_of(const Sheet& sheet, std::size_t page, const Faces& faces) {
  OpenFaces opened;
  Painted painted;
  if (painted.error = open_faces(faces.folder, opened); !painted.error.empty())
    return painted;
  const Surface surface(cairo_svg_surface_create_for_stream(append, &painted.bytes,
                                                            sheet.paper.width, sheet.paper.height));
  painted.error =
      paint(surface.get(), std::span(sheet.pages).subspan(page, 1), opened, *faces.metrics);
  return painted;
}

} // namespace landfall::app::sheet
