"use strict";
// The tables of the page: search, filter, sort, and no more rows in the page than can be looked at. Every text of a
// book enters the page as text (textContent), never as markup.
(() => {
  const PAGE = 100;        // rows shown at a time
  const PRINTED = 2000;    // rows of a table that are printed; the page says when that leaves some out
  const data = JSON.parse(document.getElementById("data").textContent);
  const number = new Intl.NumberFormat("en");
  const folded = text => text.normalize("NFKD").replace(/[\u0300-\u036f]/g, "").toLowerCase();

  function make(tag, attributes, ...inside) {
    const element = document.createElement(tag);
    for (const [name, value] of Object.entries(attributes || {})) {
      if (value !== undefined && value !== "") element.setAttribute(name, value);
    }
    element.append(...inside);
    return element;
  }

  const words = data.words;                      // texts that many lines share, by number
  const shipOf = line => data.ships[line.s];     // lines name their ship by its number, which counts from 0
  const bookLink = (ship, text) => ship.href ? make("a", {href: ship.href}, text) : text;

  // ---- one table ----------------------------------------------------------------------------------------------

  class Table {
    constructor(name, lines, columns, filters) {
      this.root = document.getElementById(name);
      this.name = name;
      this.lines = lines;
      this.columns = columns;
      this.filters = filters;
      this.kept = lines;
      this.sorted = null;                        // [index of the column, 1 or -1]; null: as they came, worst first
      this.first = 0;
      this.body = this.root.querySelector("tbody");
      this.status = this.root.querySelector(".status");
      this.heads = [...this.root.querySelectorAll("thead th")];
      this.controls = this.root.querySelector(".controls");
      this.heads.forEach((head, index) => {
        const button = head.querySelector("button");
        if (button) button.addEventListener("click", () => this.sortBy(index));
      });
      let wait;
      this.controls.addEventListener("input", event => {
        clearTimeout(wait);
        if (event.target.type === "search") wait = setTimeout(() => this.apply(), 120);
        else this.apply();
      });
      this.controls.addEventListener("submit", event => { event.preventDefault(); this.apply(); });
      this.controls.querySelector("[data-do=clear]").addEventListener("click", () => {
        this.controls.reset();
        this.sorted = null;
        this.apply();
      });
      this.pager = this.root.querySelector(".pager");
      this.back = this.pager.querySelector("[data-do=back]");
      this.next = this.pager.querySelector("[data-do=next]");
      this.back.addEventListener("click", () => this.turn(-PAGE));
      this.next.addEventListener("click", () => this.turn(PAGE));
      this.apply();
    }

    turn(by) {
      this.first = Math.max(0, this.first + by);
      this.show(this.first, this.first + PAGE);
      this.root.scrollIntoView();
      (by > 0 && this.next.disabled ? this.back : by < 0 && this.back.disabled ? this.next : document.activeElement)
        .focus({preventScroll: true});
    }

    sortBy(index) {
      const [was, way] = this.sorted || [-1, 1];
      const count = this.root.id === "ships" && index > 0 && this.heads[index].classList.contains("number");
      const first = count ? -1 : 1;                // of counts the most, of all else the least
      this.sorted = was !== index ? [index, first] : way === first ? [index, -first] : null;
      this.apply();
    }

    searched(line) {
      if (line.text === undefined) line.text = folded(this.columns.map(column => column.text(line)).join("\n"));
      return line.text;
    }

    apply() {
      const wanted = folded(this.controls.elements.search.value).split(/\s+/).filter(Boolean);
      const tests = Object.entries(this.filters)
        .map(([name, test]) => [this.controls.elements[name], test])
        .filter(([field]) => field.type === "checkbox" ? field.checked : field.value !== "")
        .map(([field, test]) => line => test(line, field.value));
      this.kept = this.lines.filter(line =>
        tests.every(test => test(line)) && wanted.every(word => this.searched(line).includes(word)));
      if (this.sorted) {
        const [index, way] = this.sorted;
        const key = this.columns[index].key || this.columns[index].text;
        const order = new Intl.Collator("en", {numeric: true}).compare;
        const keys = new Map(this.kept.map(line => [line, key(line)]));
        const compare = (one, other) => typeof one === "number" ? one - other : order(one, other);
        this.kept = [...this.kept].sort((one, other) => way * compare(keys.get(one), keys.get(other)));
      }
      this.heads.forEach((head, index) => {
        if (!head.querySelector("button")) return;
        const is = this.sorted && this.sorted[0] === index;
        head.setAttribute("aria-sort", is ? (this.sorted[1] === 1 ? "ascending" : "descending") : "none");
      });
      this.first = 0;
      this.show(0, PAGE);
    }

    show(from, until) {
      const shown = this.kept.slice(from, until);
      const rows = document.createDocumentFragment();
      for (const line of shown) {
        const row = make("tr", {role: "row", class: line.g || "plain"});
        for (const column of this.columns) {
          const cell = make("td", {role: "cell", class: column.look, "data-label": column.label});
          cell.append(...[column.cell ? column.cell(line) : column.text(line)].flat());
          row.append(cell);
        }
        rows.append(row);
      }
      this.body.replaceChildren(rows);
      const all = this.lines.length === this.kept.length ? "" : ` (of ${number.format(this.lines.length)})`;
      const last = Math.min(until, this.kept.length);
      this.status.textContent = this.kept.length
        ? `${number.format(from + 1)} to ${number.format(last)} of ${number.format(this.kept.length)}${all}`
        : `None${all}`;
      this.pager.hidden = this.kept.length <= PAGE;
      this.back.disabled = from === 0;
      this.next.disabled = last >= this.kept.length;
    }

    print() {
      this.show(0, PRINTED);
      if (this.kept.length > PRINTED) {
        const left = number.format(this.kept.length - PRINTED);
        this.status.textContent += `. ${left} more lines are not printed: filter first, or print them from the workbook.`;
      }
    }
  }

  // ---- the columns of each table ------------------------------------------------------------------------------

  const count = (name, get, urgent) => ({
    label: name, look: "number", key: line => get(line) ?? -1, text: line => String(get(line) ?? ""),
    cell: line => {
      const value = get(line);
      if (value === null || value === undefined) return "";
      if (!value) return make("span", {class: "zero"}, "0");
      return urgent && urgent(line) ? make("span", {class: "urgent"}, `!! ${number.format(value)}`) : number.format(value);
    },
  });

  const byShip = ship => {
    const form = findings.controls;
    form.reset();
    form.elements.ship.value = String(ship.n);
    findings.apply();
    document.getElementById("findings").scrollIntoView();
    form.elements.search.focus({preventScroll: true});
  };

  const shipColumns = [
    {label: "Place", look: "number", key: ship => ship.r, text: ship => String(ship.r)},
    {label: "Ship", key: ship => ship.t, text: ship => `${ship.t} ${ship.i}`, cell: ship => {
      const button = make("button", {type: "button", class: "plainlink"}, ship.t);
      button.addEventListener("click", () => byShip(ship));
      return [button, ...(ship.i ? [make("div", {class: "small"}, `IMO ${ship.i}`)] : [])];
    }},
    {label: "Verdict", text: ship => ship.v, cell: ship =>
      make("span", {class: ship.g === "action" ? "urgent" : ""}, ship.g === "action" ? `!! ${ship.v}` : ship.v)},
    ...data.grades.map((grade, index) => count(grade, ship => ship.c && ship.c[index], () => index === 0)),
    count(data.followed_up, ship => ship.c && ship.u),
    ...data.families.map(([key, name], index) =>
      count(`${key} ${name}`, ship => ship.f && ship.f[index], ship => ship.a[index] > 0)),
    count("not evaluated", ship => ship.c && ship.e),
    {label: "Workbook", text: ship => ship.b, cell: ship => bookLink(ship, ship.b)},
  ];

  const cellLink = line => {
    const ship = shipOf(line);
    const place = `${words[line.h]}!${line.x}`;
    return ship.href
      ? make("a", {href: ship.href, title: `Opens ${ship.b}; go to ${place}`}, place) : document.createTextNode(place);
  };
  const shipCell = {label: "Ship", text: line => shipOf(line).t};

  const findingColumns = [
    {label: "Grade", key: line => line.o, text: line => `${data.grades[line.d]} ${data.priorities[line.p]}`, cell: line =>
      [make("div", {class: `mark ${data.grades[line.d]}`}, `${data.marks[line.d]} ${data.grades[line.d]}`),
       make("div", {class: "small"}, data.priorities[line.p])]},
    shipCell,
    {label: "Subject and cell", text: line => `${words[line.j]} ${words[line.h]}!${line.x} ${line.w || ""}`, cell: line =>
      [make("div", {}, words[line.j]), make("div", {}, cellLink(line)),
       ...(line.w ? [make("div", {class: "small"}, `Person on that line: ${line.w}`)] : [])]},
    {label: "What is wrong", text: line => `${line.m} ${words[line.q]}`, cell: line =>
      [make("p", {}, line.m), ...(words[line.q] ? [make("p", {class: "small"}, `By: ${words[line.q]}`)] : []),
       ...(line.z ? [make("p", {class: "small"}, `Being followed up: ${line.z}`)] : [])]},
    {label: "What to do", text: line => words[line.y]},
    {label: "Finding", look: "whole", text: line => `${line.k} ${words[line.l]}`, cell: line =>
      make("span", {title: `Rule: ${words[line.l]}. Copy this id into the Follow-up sheet.`}, line.k)},
  ];

  const lapseColumns = [
    {label: "Last day", look: "whole", text: line => line.d},
    {label: "Days left", look: "number", key: line => line.n, text: line => String(line.n)},
    shipCell,
    {label: "Kind", text: line => data.kinds[line.k]},
    {label: "What", text: line => words[line.m]},
    {label: "Where", text: line => words[line.j] + (line.w ? `, ${line.w}` : "")},
    {label: "Cell", text: line => `${words[line.h]}!${line.x}`, cell: cellLink},
  ];

  // The ships to choose from, by name, once for each list that asks.
  const byName = [...data.ships].sort((one, other) => new Intl.Collator("en", {numeric: true}).compare(one.t, other.t));
  for (const field of document.querySelectorAll("select[name=ship]")) {
    const options = byName.map(ship => make("option", {value: ship.n}, ship.i ? `${ship.t} (IMO ${ship.i})` : ship.t));
    field.append(...options);
  }

  data.findings.forEach((line, index) => { line.o = index; line.g = data.grades[line.d]; });

  const ships = new Table("ships", data.ships, shipColumns, {
    verdict: (ship, value) => value === "unread" ? !ship.c : value === "action" ? ship.c && ship.c[0] > 0 : ship.c && !ship.c[0],
  });
  const findings = new Table("findings", data.findings, findingColumns, {
    grade: (line, value) => line.d === Number(value),
    priority: (line, value) => line.p === Number(value),
    family: (line, value) => line.k.startsWith(value),
    ship: (line, value) => line.s === Number(value),
    open: line => !line.u,
  });
  const lapses = new Table("due", data.lapses, lapseColumns, {
    kind: (line, value) => line.k === value,
    ship: (line, value) => line.s === Number(value),
    days: (line, value) => line.n <= Number(value),
  });
  const tables = [ships, findings, lapses];
  addEventListener("beforeprint", () => {
    tables.forEach(table => table.print());
    document.querySelectorAll("details").forEach(details => { details.open = true; });
  });
  addEventListener("afterprint", () => tables.forEach(table => table.show(table.first, table.first + PAGE)));
  document.documentElement.dataset.ready = "yes";
})();
