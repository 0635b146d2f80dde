// SPDX-License-Identifier: MIT
// Variants side by side: a table for everybody, and where scripts run, a choice of each thing that was varied
// with the numbers of the variant chosen. All of them were computed beforehand.
#include "cli/report/sections/report_parts.hpp"
#include "cli/words/format.hpp"
#include "cli/words/said.hpp"

namespace hollowtop::cli {
namespace {

/// Reads the table of its own page and nothing else. It holds no word of the piece file.
constexpr const char* explorer = R"js(
(function () {
  var table = document.getElementById('variants'), place = document.getElementById('explorer');
  var heads = [].map.call(table.tHead.rows[0].cells, function (c) { return c.textContent; });
  var n = Number(table.dataset.varied), rows = [].slice.call(table.tBodies[0].rows);
  var text = function (row, i) { return row.cells[i].textContent; };
  var chosen = rows.find(function (r) { return r.classList.contains('fit'); }) || rows[0];
  var form = document.createElement('form'), out = document.createElement('dl');
  var name = document.createElement('p');
  name.className = 'sentence';
  var live = document.createElement('div');
  live.setAttribute('aria-live', 'polite');
  var selects = [];
  for (var i = 0; i < n; ++i) {
    var label = document.createElement('label'), select = document.createElement('select'), seen = {};
    label.textContent = heads[i] + ' ';
    rows.forEach(function (r) {
      var value = text(r, i);
      if (seen['_' + value]) return;
      seen['_' + value] = true;
      var option = document.createElement('option');
      option.textContent = option.value = value;
      select.appendChild(option);
    });
    select.value = text(chosen, i);
    select.addEventListener('change', show);
    label.appendChild(select);
    form.appendChild(label);
    selects.push(select);
  }
  form.addEventListener('submit', function (e) { e.preventDefault(); });
  function show() {
    var row = rows.find(function (r) { return selects.every(function (s, i) { return text(r, i) === s.value; }); });
    rows.forEach(function (r) { r.classList.toggle('chosen', r === row); });
    out.textContent = '';
    name.textContent = row ? text(row, n) : 'This one was not computed.';
    if (!row) return;
    for (var i = n + 1; i < heads.length; ++i) {
      var div = document.createElement('div'), dt = document.createElement('dt'), dd = document.createElement('dd');
      dt.textContent = heads[i];
      [].forEach.call(row.cells[i].childNodes, function (c) { dd.appendChild(c.cloneNode(true)); });
      var data = row.cells[i].querySelector('data');
      if (data) {
        // what is used stands against its limit, the rest against the greatest of all variants
        var most = heads[i] === 'used' ? 1 : 0, bar = document.createElement('span');
        if (!most) rows.forEach(function (r) { var d = r.cells[i].querySelector('data'); if (d) most = Math.max(most, Number(d.value)); });
        bar.className = Number(data.value) > most ? 'bar full' : 'bar';
        bar.style.setProperty('--share', (most > 0 ? 100 * Number(data.value) / most : 0) + '%');
        dd.appendChild(bar);
      }
      div.appendChild(dt);
      div.appendChild(dd);
      out.appendChild(div);
    }
  }
  live.appendChild(name);
  live.appendChild(out);
  place.appendChild(form);
  place.appendChild(live);
  var note = document.createElement('p');
  note.className = 'soft';
  note.textContent = 'Bars: what is used, against the limit; the rest, against the greatest of the variants.';
  place.appendChild(note);
  place.hidden = false;
  show();
})();
)js";

Markup plain_number(double value, const std::string& shown) {
    return element("data", words(shown), {{"value", exact(value)}});
}

} // namespace

Markup compare_section(const Sheet& sheet) {
    const ReportInput& in = sheet.in;
    if (in.variants.empty()) return {};
    const Units units = sheet.units();
    std::vector<TableColumn> columns;
    for (const std::string& axis : in.varied) columns.push_back({axis});
    for (const TableColumn& column : {TableColumn{"verdict"},
                                      {"weight", true},
                                      {"sag at once", true},
                                      {"sag after the years", true},
                                      {"used", true},
                                      {"what governs"}})
        columns.push_back(column);
    const ReportVariant* best = nullptr;
    std::size_t n_fit = 0, n_judged = 0;
    for (const ReportVariant& v : in.variants) {
        n_judged += v.row ? 1 : 0;
        if (!v.row || !v.row->passes) continue;
        ++n_fit;
        if (best == nullptr || v.row->mass_kg < best->row->mass_kg) best = &v;
    }
    std::vector<TableRow> rows;
    for (const ReportVariant& v : in.variants) {
        std::vector<Markup> cells;
        for (const Message& choice : v.choices)
            cells.push_back(element("span", words(text_of(choice)), {{"class", "keep"}}));
        if (!v.row) {
            cells.push_back(words("could not be judged: ") + own(text_of(v.problem)));
            for (int k = 0; k < 5; ++k) cells.emplace_back();
            rows.push_back({cells});
            continue;
        }
        const StudyRow& r = *v.row;
        cells.push_back(words(r.passes ? "meets the limits set" : "does not meet the limits set"));
        cells.push_back(plain_number(r.mass_kg, mass_text(r.mass_kg, units)));
        cells.push_back(plain_number(r.sag_mm, amount_text(r.sag_mm, "mm", units)));
        cells.push_back(r.sag_years_mm
                            ? plain_number(*r.sag_years_mm, amount_text(*r.sag_years_mm, "mm", units))
                            : Markup{});
        cells.push_back(plain_number(r.utilisation, utilisation_text(r.utilisation)));
        cells.push_back(words(r.governing_check));
        rows.push_back({cells, &v == best ? "fit" : r.passes ? "" : "over"});
    }
    Markup made = table("Variants, each judged as fully as the piece itself", columns, rows);
    made.html.insert(made.html.find("<table") + 6,
                     " id=\"variants\" data-varied=\"" + std::to_string(in.varied.size()) + "\"");
    const std::size_t n = in.variants.size(), n_open = n - n_judged;
    std::string told = std::to_string(n) + (n == 1 ? " variant" : " variants") + " of this piece " +
                       (n == 1 ? "was" : "were") + " computed beforehand; ";
    if (n_judged == 0)
        told += "none could be judged, and the table says why.";
    else
        told +=
            (n_fit == 0 ? std::string("none meets")
                        : std::to_string(n_fit) + (n_fit == 1 ? " meets" : " meet")) +
            " the limits set." +
            (best != nullptr ? " The lightest of these weighs " + mass_text(best->row->mass_kg, units) + "."
                             : std::string()) +
            (n_open > 0 ? " " + std::to_string(n_open) + " could not be judged." : std::string());
    const Result& drawn = sheet.result();
    Markup inner = para(words(told));
    inner += para(words("For comparison, as drawn: it weighs ") +
                  massed(sheet, drawn.mass.total_kg, "/mass/total_kg") + words(", ") +
                  used(drawn.governing_utilisation, "/governing/utilisation") + words(" of the limit of ") +
                  words(drawn.governing_check) + words(" is used, and it ") +
                  words(drawn.passes ? "meets" : "does not meet") + words(" the limits set."));
    inner += element("div", {}, {{"id", "explorer"}, {"hidden", "hidden"}}) + made +
             Markup{std::string("<script>") + explorer + "</script>\n"};
    return element("section", heading(sheet, "compare") + inner);
}

} // namespace hollowtop::cli
