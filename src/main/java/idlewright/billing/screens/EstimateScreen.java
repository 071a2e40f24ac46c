package idlewright.billing.screens;

import idlewright.billing.EstimateView;
import idlewright.billing.Estimates;
import idlewright.billing.FittedOtherwise;
import idlewright.billing.Offers;
import idlewright.billing.PlannedWork;
import idlewright.billing.Rates;
import idlewright.billing.WorkRates;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.billing.rules.Prices;
import idlewright.frame.Problems;
import idlewright.frame.Refused;
import idlewright.frame.Typing;
import idlewright.frame.rules.Qr;
import idlewright.intake.Letters;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.Tickets;
import idlewright.people.For;
import idlewright.people.Role;
import idlewright.reference.money.Money;
import java.math.BigDecimal;
import java.util.ArrayList;
import java.util.HashMap;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;
import org.springframework.beans.factory.ObjectProvider;
import org.springframework.http.ContentDisposition;
import org.springframework.http.MediaType;
import org.springframework.http.ResponseEntity;
import org.springframework.stereotype.Controller;
import org.springframework.ui.Model;
import org.springframework.web.bind.annotation.GetMapping;
import org.springframework.web.bind.annotation.ModelAttribute;
import org.springframework.web.bind.annotation.PathVariable;
import org.springframework.web.bind.annotation.PostMapping;
import org.springframework.web.bind.annotation.RequestParam;
import org.springframework.web.servlet.mvc.support.RedirectAttributes;
import org.springframework.web.servlet.support.ServletUriComponentsBuilder;

/** Writes an estimate line by line, shows it, and puts it to the customer. */
@Controller
@For({Role.WRITER, Role.OWNER})
class EstimateScreen {

    private static final int LINES = 40;
    private static final List<String> HOW = List.of("in person", "by phone", "by e-mail", "by text message");

    /** One line as it was typed. */
    public static class Row {
        private @Nullable String place;
        private @Nullable String kind;
        private @Nullable String what;
        private @Nullable String quantity;
        private @Nullable String each;
        private @Nullable String partNumber;

        public Row() {}

        Row(
                int place,
                LineKind kind,
                @Nullable String what,
                String quantity,
                String each,
                @Nullable String partNumber) {
            this.place = Integer.toString(place);
            this.kind = kind.name();
            this.what = what;
            this.quantity = quantity;
            this.each = each;
            this.partNumber = partNumber;
        }

        boolean empty() {
            return what == null && partNumber == null;
        }

        public @Nullable String getPlace() {
            return place;
        }

        public void setPlace(@Nullable String place) {
            this.place = place;
        }

        public @Nullable String getKind() {
            return kind;
        }

        public void setKind(@Nullable String kind) {
            this.kind = kind;
        }

        public @Nullable String getWhat() {
            return what;
        }

        public void setWhat(@Nullable String what) {
            this.what = what;
        }

        public @Nullable String getQuantity() {
            return quantity;
        }

        public void setQuantity(@Nullable String quantity) {
            this.quantity = quantity;
        }

        public @Nullable String getEach() {
            return each;
        }

        public void setEach(@Nullable String each) {
            this.each = each;
        }

        public @Nullable String getPartNumber() {
            return partNumber;
        }

        public void setPartNumber(@Nullable String partNumber) {
            this.partNumber = partNumber;
        }
    }

    private static final String WORK = "LABOUR:";

    /** The whole form; a bean, because its rows come by index. */
    public static class Form {
        private List<Row> rows = new ArrayList<>();
        private @Nullable String note;
        private @Nullable String prices;

        public List<Row> getRows() {
            return rows;
        }

        public void setRows(List<Row> rows) {
            this.rows = rows;
        }

        /** How the page that was filled in prices. */
        public @Nullable String getPrices() {
            return prices;
        }

        public void setPrices(@Nullable String prices) {
            this.prices = prices;
        }

        public @Nullable String getNote() {
            return note;
        }

        public void setNote(@Nullable String note) {
            this.note = note;
        }
    }

    private final Estimates estimates;
    private final Offers offers;
    private final Letters letters;
    private final Tickets tickets;
    private final Rates rates;
    private final WorkRates workRates;
    private final ObjectProvider<PlannedWork> planned;
    private final ObjectProvider<FittedOtherwise> fitted;
    private final Problems problems;

    EstimateScreen(
            Estimates estimates,
            Offers offers,
            Letters letters,
            Tickets tickets,
            Rates rates,
            WorkRates workRates,
            ObjectProvider<PlannedWork> planned,
            ObjectProvider<FittedOtherwise> fitted,
            Problems problems) {
        this.fitted = fitted;
        this.planned = planned;
        this.workRates = workRates;
        this.estimates = estimates;
        this.offers = offers;
        this.letters = letters;
        this.tickets = tickets;
        this.rates = rates;
        this.problems = problems;
    }

    @GetMapping("/tickets/{number:\\d+}/estimates/new")
    String blank(@PathVariable int number, @RequestParam(defaultValue = "0") int more, Model model) {
        TicketView ticket = tickets.get(new TicketNumber(number));
        var form = new Form();
        var latest = estimates.latest(ticket.number());
        if (latest.isPresent()) {
            latest.get().lines().forEach(written -> form.getRows().add(row(written.line())));
            form.setNote(latest.get().note());
        } else {
            var plans = planned(ticket.number());
            for (var symptom : ticket.symptoms()) {
                String plan = symptom.ended() ? null : plans.get(symptom.place());
                form.getRows().add(new Row(symptom.place(), LineKind.LABOUR, plan, "", "", null));
                form.getRows().add(new Row(symptom.place(), LineKind.PART, null, "", "", null));
            }
        }
        spare(form, ticket, 2 + Math.min(more, 20));
        model.addAttribute("form", form);
        return form(ticket, model);
    }

    private Map<Integer, String> planned(TicketNumber number) {
        var all = new HashMap<Integer, String>();
        planned.orderedStream().forEach(room -> all.putAll(room.of(number)));
        return all;
    }

    @PostMapping("/tickets/{number:\\d+}/estimates")
    String write(
            @PathVariable int number,
            @RequestParam(required = false) @Nullable String more,
            @ModelAttribute("form") Form form,
            Model model) {
        TicketView ticket = tickets.get(new TicketNumber(number));
        if (more != null) {
            form.getRows().removeIf(Objects::isNull);
            spare(form, ticket, 4);
            return form(ticket, model);
        }
        try {
            Prices prices = rates.prices(ticket.number());
            if (form.getPrices() != null && !form.getPrices().equals(prices.name())) {
                throw Refused.because(
                        "The shop’s prices are %s now; this page was filled in before that. Go through the prices and keep it again."
                                .formatted(prices.words()));
            }
            var typing = new Typing();
            var lines = new ArrayList<Line>();
            for (int i = 0; i < form.getRows().size(); i++) {
                Row row = form.getRows().get(i);
                if (row != null && !row.empty()) {
                    Line line = line(typing, i, row, ticket);
                    if (line != null) {
                        lines.add(line);
                    }
                }
            }
            typing.done();
            return "redirect:/estimates/"
                    + estimates.write(ticket.number(), lines, form.getNote()).id();
        } catch (Refused no) {
            form(ticket, model);
            return problems.show(model, no, "billing/estimate-form");
        }
    }

    @GetMapping("/estimates/{id:\\d+}")
    @For({Role.WRITER, Role.OWNER, Role.TECHNICIAN})
    String estimate(@PathVariable long id, Model model) {
        return show(id, model);
    }

    @PostMapping("/estimates/{id:\\d+}/offer")
    String offer(@PathVariable long id, @RequestParam(required = false) @Nullable String how, Model model) {
        try {
            if (how == null || !HOW.contains(how)) {
                throw Refused.at("how", "Choose how it is put to the customer.");
            }
            return "redirect:" + estimates.offer(id, how).ticket().url();
        } catch (Refused no) {
            return problems.show(model, no, show(id, model));
        }
    }

    /** Puts it to the customer by a secret link, and mails it to those who agreed to e-mail. */
    @PostMapping("/estimates/{id:\\d+}/link")
    String link(@PathVariable long id, Model model, RedirectAttributes after) {
        try {
            String url = url(offers.link(id));
            String whyNot =
                    letters.whyNot(tickets.get(estimates.get(id).ticket()).customer());
            if (whyNot == null) {
                offers.mail(id, url);
            }
            after.addFlashAttribute(
                    "notice",
                    whyNot == null
                            ? "A letter with the link is on its way."
                            : "The link is made. Show it or send it yourself. " + whyNot);
            return "redirect:/estimates/" + id;
        } catch (Refused no) {
            return problems.show(model, no, show(id, model));
        }
    }

    private static String url(Offers.Link link) {
        return ServletUriComponentsBuilder.fromCurrentContextPath()
                .path(link.path())
                .toUriString();
    }

    @GetMapping("/estimates/{id:\\d+}.pdf")
    @For({Role.WRITER, Role.OWNER, Role.TECHNICIAN})
    ResponseEntity<byte[]> pdf(@PathVariable long id) {
        return ResponseEntity.ok()
                .contentType(MediaType.APPLICATION_PDF)
                .header(
                        "Content-Disposition",
                        ContentDisposition.inline()
                                .filename("estimate-" + id + ".pdf")
                                .build()
                                .toString())
                .body(estimates.pdf(id));
    }

    private String show(long id, Model model) {
        EstimateView estimate = estimates.get(id);
        model.addAllAttributes(estimates.model(estimate));
        model.addAttribute(
                "otherwise",
                fitted.orderedStream()
                        .flatMap(room -> room.of(estimate.ticket()).stream())
                        .filter(part -> part.estimate() == id)
                        .toList());
        var replies = offers.replies(id);
        model.addAttribute("answers", replies.answers());
        replies.link().filter(link -> estimate.latest()).ifPresent(link -> {
            String url = url(link);
            model.addAttribute("link", link);
            model.addAttribute(
                    "mailed", letters.whyNot(tickets.get(estimate.ticket()).customer()) == null);
            model.addAttribute("url", url);
            model.addAttribute("qr", Qr.of(url));
        });
        return "billing/estimate";
    }

    private @Nullable Line line(Typing typing, int i, Row row, TicketView ticket) {
        String at = "rows[" + i + "].";
        String line = "Line %d: ".formatted(i + 1);
        String what = typing.needed(at + "what", row.getWhat(), "Line %d: say what it is.".formatted(i + 1));
        String work = work(row.getKind());
        // Hours are never guessed: a 1 that nobody typed would be agreed to and charged.
        BigDecimal quantity = work == null && row.getQuantity() == null
                ? BigDecimal.ONE
                : typing.beginning(
                        line,
                        () -> typing.neededNumber(
                                at + "quantity",
                                row.getQuantity(),
                                work == null ? "enter how many." : "enter the hours."));
        BigDecimal each =
                work != null && (row.getEach() == null || row.getEach().isBlank())
                        ? workRates.rate(ticket.number(), work).amount()
                        : typing.beginning(
                                line, () -> typing.neededAmount(at + "each", row.getEach(), "enter the price of one."));
        if (row.getQuantity() != null && quantity.signum() <= 0) {
            typing.wrong(at + "quantity", "Line %d: enter a quantity above 0.".formatted(i + 1));
        }
        if (quantity.compareTo(new BigDecimal("99999")) > 0) {
            typing.wrong(at + "quantity", "Line %d: that is too many.".formatted(i + 1));
        }
        if (each.abs().compareTo(new BigDecimal("9999999")) > 0) {
            typing.wrong(at + "each", "Line %d: that is too large an amount.".formatted(i + 1));
        }
        if (what.length() > 300) {
            typing.wrong(at + "what", "Line %d: use 300 letters at most.".formatted(i + 1));
        }
        LineKind kind;
        int place;
        try {
            kind = work != null || row.getKind() == null ? LineKind.LABOUR : LineKind.valueOf(row.getKind());
            place = Integer.parseInt(row.getPlace() == null ? "0" : row.getPlace());
        } catch (IllegalArgumentException e) {
            typing.wrong(at + "kind", "Line %d: choose what kind of line it is.".formatted(i + 1));
            return null;
        }
        if (place < 0 || place > ticket.symptoms().size()) {
            typing.wrong(at + "place", "Line %d: choose the symptom it belongs to.".formatted(i + 1));
            return null;
        }
        if (what.isEmpty() || quantity.signum() <= 0) {
            return null;
        }
        Line typed =
                Line.typed(place, kind, what, quantity, Money.rounded(each, rates.currency()), row.getPartNumber());
        typed.wrong()
                .ifPresent(why -> typing.wrong(
                        at + (kind == LineKind.SUBLET && each.signum() >= 0 ? "what" : "each"),
                        "Line %d: %s".formatted(i + 1, why)));
        return typed;
    }

    /** The kind of work that labour was chosen of; nothing for any other line. */
    private static @Nullable String work(@Nullable String kind) {
        return kind == null || kind.equals(LineKind.LABOUR.name())
                ? ""
                : kind.startsWith(WORK) ? kind.substring(WORK.length()) : null;
    }

    private String form(TicketView ticket, Model model) {
        var places = new LinkedHashMap<String, String>();
        ticket.symptoms().forEach(s -> places.put(Integer.toString(s.place()), s.kindName()));
        places.put("0", "The visit");
        var kinds = new LinkedHashMap<String, String>();
        for (LineKind kind : LineKind.values()) {
            kinds.put(kind.name(), kind.words());
            if (kind == LineKind.LABOUR) {
                workRates
                        .card()
                        .kinds()
                        .forEach(work -> kinds.put(
                                WORK + work.name(),
                                "%s: %s, %s"
                                        .formatted(
                                                kind.words(),
                                                work.name(),
                                                workRates
                                                        .rate(ticket.number(), work.name())
                                                        .text())));
            }
        }
        model.addAttribute("ticket", ticket);
        model.addAttribute("places", places);
        model.addAttribute("kinds", kinds);
        model.addAttribute("currency", rates.currency().getCurrencyCode());
        model.addAttribute("labourRate", rates.labourRate(ticket.number()));
        model.addAttribute("prices", rates.prices(ticket.number()));
        return "billing/estimate-form";
    }

    private static void spare(Form form, TicketView ticket, int count) {
        int place = ticket.symptoms().isEmpty() ? 0 : 1;
        for (int i = 0; i < count && form.getRows().size() < LINES; i++) {
            form.getRows().add(new Row(place, LineKind.PART, null, "", "", null));
        }
    }

    private static Row row(Line line) {
        return new Row(
                line.place(),
                line.kind(),
                line.what(),
                line.quantity().stripTrailingZeros().toPlainString(),
                line.price().amount().toPlainString(),
                line.partNumber());
    }
}
