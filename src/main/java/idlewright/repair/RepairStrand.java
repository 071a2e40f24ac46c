package idlewright.repair;

import idlewright.frame.OnlyReads;
import idlewright.intake.Act;
import idlewright.intake.Chapter;
import idlewright.intake.Finds;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Role;
import idlewright.repair.Labours.CorrectionView;
import idlewright.repair.Labours.LabourView;
import idlewright.repair.rules.Clocking;
import idlewright.repair.rules.PartNumbers;
import java.util.ArrayList;
import java.util.EnumSet;
import java.util.List;
import java.util.Locale;
import java.util.Set;
import org.springframework.core.annotation.Order;
import org.springframework.jdbc.core.simple.JdbcClient;
import org.springframework.stereotype.Component;

/** What the repair tells on a thread: the cause, the parts with their checks, the work; and what of it is still missing. */
@Component
@Order(8)
class RepairStrand implements Strand, Finds {

    private final Tickets tickets;
    private final Findings findings;
    private final Swaps swaps;
    private final PartsNotAsAgreed notAsAgreed;
    private final Labours labours;
    private final Clocks clocks;
    private final JdbcClient jdbc;

    RepairStrand(
            Tickets tickets,
            Findings findings,
            Swaps swaps,
            PartsNotAsAgreed notAsAgreed,
            Labours labours,
            Clocks clocks,
            JdbcClient jdbc) {
        this.clocks = clocks;
        this.tickets = tickets;
        this.findings = findings;
        this.swaps = swaps;
        this.notAsAgreed = notAsAgreed;
        this.labours = labours;
        this.jdbc = jdbc;
    }

    @Override
    public Set<Chapter> chapters() {
        return EnumSet.of(Chapter.TEST, Chapter.CAUSE, Chapter.CORRECTION);
    }

    @Override
    @OnlyReads
    public List<Knot> knots(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        var knots = new ArrayList<Knot>();
        findings.all(number).forEach(finding -> knots.add(found(finding, ticket)));
        swaps.of(number).forEach(swap -> knots.add(swapped(swap)));
        if (!ticket.has(TicketStamp.BILLED)) {
            notAsAgreed
                    .of(number)
                    .forEach(part -> knots.add(Knot.open(
                            part.place(),
                            Chapter.CORRECTION,
                            "Another part number than agreed",
                            part.words(),
                            Act.also(
                                    "Look at the estimate",
                                    "/estimates/" + part.estimate(),
                                    Role.WRITER,
                                    Role.OWNER))));
        }
        labours.of(number).forEach(labour -> knots.add(worked(labour)));
        labours.corrections(number).forEach(correction -> knots.add(corrected(correction)));
        var spans = clocks.of(number);
        if (!spans.isEmpty()) {
            knots.add(Knot.told(
                            0,
                            spans.get(spans.size() - 1).startedAt(),
                            spans.get(spans.size() - 1).technician(),
                            Chapter.CORRECTION,
                            "Clocked so far "
                                    + Clocking.words(spans.stream()
                                            .mapToLong(Clocks.Span::seconds)
                                            .sum()) + " h",
                            spans.stream().anyMatch(Clocks.Span::running) ? "a clock runs" : "")
                    .with("repair/knots :: clocked", spans));
        }
        if (ticket.has(TicketStamp.AGREED) && !ticket.has(TicketStamp.BILLED)) {
            ticket.symptoms().stream()
                    .filter(symptom -> !symptom.ended())
                    .forEach(symptom -> missing(ticket, symptom, knots));
        }
        return knots;
    }

    private static Knot found(FindingView finding, TicketView ticket) {
        SymptomView symptom = ticket.symptom(finding.place());
        // A replaced finding is told among the tests: the invoice tells one cause, not two.
        Knot knot = Knot.told(
                        finding.place(),
                        finding.at(),
                        finding.who(),
                        finding.replaced() ? Chapter.TEST : Chapter.CAUSE,
                        finding.replaced() ? "Thought at first: " + lower(finding.causeName()) : finding.causeName(),
                        finding.replaced() ? finding.words() : finding.words() + ". " + finding.plain())
                .with("repair/knots :: finding", finding);
        return finding.replaced() || symptom.ended() || ticket.has(TicketStamp.BILLED)
                ? knot
                : knot.with(
                        Act.also("Another cause after all", symptom.ref().url() + "/findings/new", Role.TECHNICIAN));
    }

    private static Knot swapped(SwapView swap) {
        // A part that came out again is told among the tests; the customer pays for none of it.
        Knot knot = Knot.told(
                        swap.thread().place(),
                        swap.ended() == null ? swap.at() : swap.ended().at(),
                        swap.who(),
                        swap.isFinal() ? Chapter.CORRECTION : Chapter.TEST,
                        swap.title(),
                        swap.said())
                .with("repair/knots :: swap", swap)
                .onPaper("New part " + swap.said() + ".");
        return knot.with(
                swap.open()
                        ? Act.main("Answer the checks", swap.url() + "/checks", Role.TECHNICIAN)
                        : Act.also("Both parts side by side", swap.url(), Role.TECHNICIAN, Role.WRITER, Role.OWNER));
    }

    private static Knot worked(LabourView labour) {
        // What is charged stands among the lines of an invoice; what is not is told.
        return Knot.told(
                        labour.place(),
                        labour.at(),
                        labour.who(),
                        Chapter.CORRECTION,
                        labour.what(),
                        labour.hoursWords()
                                + (labour.freeBecause() == null ? "" : ", not charged: " + labour.freeBecause()))
                .onPaper(
                        labour.freeBecause() == null
                                ? ""
                                : "Not charged: %s (%s).".formatted(labour.what(), labour.freeBecause()));
    }

    private static Knot corrected(CorrectionView correction) {
        return Knot.told(
                        correction.place(),
                        correction.at(),
                        correction.who(),
                        Chapter.CORRECTION,
                        "Repaired",
                        correction.words())
                .onPaper(correction.words());
    }

    private static void missing(TicketView ticket, SymptomView symptom, List<Knot> knots) {
        String url = symptom.ref().url();
        if (!symptom.has(ThreadStamp.TRACED)) {
            knots.add(Knot.open(
                    symptom.place(),
                    Chapter.CAUSE,
                    "The cause",
                    "Not decided yet.",
                    Act.main("Record the cause", url + "/findings/new", Role.TECHNICIAN)));
            return;
        }
        if (!ticket.repairAgreed(symptom)) {
            return;
        }
        boolean mended = symptom.has(ThreadStamp.MENDED);
        if (!mended) {
            knots.add(Knot.open(
                    symptom.place(),
                    Chapter.CORRECTION,
                    "The repair",
                    "Agreed, not done yet.",
                    Act.main("Fit a part", url + "/swaps/new", Role.TECHNICIAN),
                    Act.main("Record the work", url + "/labour/new", Role.TECHNICIAN)));
        } else if (!symptom.has(ThreadStamp.PROVED)) {
            knots.add(Knot.open(
                    symptom.place(),
                    Chapter.CORRECTION,
                    "More of the repair",
                    "Only if it needs more.",
                    Act.also("Fit another part", url + "/swaps/new", Role.TECHNICIAN),
                    Act.also("Record more work", url + "/labour/new", Role.TECHNICIAN)));
        }
    }

    @Override
    @OnlyReads
    public List<Hit> find(String words) {
        // The newest are looked through; what is rarer is found by an index. Asked for the newest eight of all, the
        // database walks back through every row in the hope of meeting a rare word soon.
        var hits = new ArrayList<Hit>();
        String bare = PartNumbers.bare(words).replaceAll("[%_\\\\]", "");
        if (bare.length() >= 3) {
            hits.addAll(jdbc.sql("""
                    with way as materialized (
                        (select s.id from (select * from swap order by id desc limit 2000) s where s.fitted_bare like :bare || '%'
                            or lower(s.fitted_serial) like lower(:words) || '%'
                            or upper(regexp_replace(coalesce(s.removed_number, ''), '[\\s-]', '', 'g')) like :bare || '%' order by s.id desc limit 8)
                        union all
                        (select s.id from swap s where s.fitted_bare like :bare || '%' limit 300)
                        union all
                        (select s.id from swap s where lower(s.fitted_serial) like lower(:words) || '%' limit 300)
                        union all
                        (select s.id from swap s
                            where upper(regexp_replace(coalesce(s.removed_number, ''), '[\\s-]', '', 'g')) like :bare || '%' limit 300))
                    select s.id, s.what, s.fitted_number, s.fitted_maker, s.fitted_serial, s.ticket_number from swap s
                    where s.id in (select id from way) order by s.id desc limit 8""")
                    .param("bare", bare)
                    .param("words", words.strip().replaceAll("[%_\\\\]", ""))
                    .query((r, n) -> new Hit(
                            "part",
                            r.getString(3) + ", " + r.getString(2),
                            r.getString(4) + (r.getString(5) == null ? "" : ", lot " + r.getString(5)) + ", ticket "
                                    + r.getInt(6),
                            "/swaps/" + r.getLong(1)))
                    .list());
        }
        String like = words.strip().toLowerCase(Locale.ROOT).replaceAll("[%_\\\\]", "");
        if (like.length() >= 3) {
            hits.addAll(jdbc.sql("""
                    with way as materialized (
                        (select f.id from (select * from finding order by id desc limit 2000) f
                            where (lower(cause_name) like '%' || :like || '%' or lower(words) like '%' || :like || '%')
                              and not exists (select from finding g where g.replaces = f.id) order by f.id desc limit 8)
                        union all
                        (select f.id from finding f where lower(cause_name) like '%' || :like || '%' limit 300)
                        union all
                        (select f.id from finding f where lower(words) like '%' || :like || '%' limit 300))
                    select ticket_number, cause_name, words from finding f
                    where f.id in (select id from way) and not exists (select from finding g where g.replaces = f.id)
                    order by id desc limit 8""")
                    .param("like", like)
                    .query((r, n) -> new Hit(
                            "cause",
                            r.getString(2),
                            r.getString(3) + ", ticket " + r.getInt(1),
                            "/tickets/" + r.getInt(1)))
                    .list());
        }
        return hits;
    }

    private static String lower(String name) {
        return name.substring(0, 1).toLowerCase(Locale.ROOT) + name.substring(1);
    }
}
