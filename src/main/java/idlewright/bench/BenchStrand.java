package idlewright.bench;

import idlewright.bench.Readout.Told;
import idlewright.bench.rules.Ranking;
import idlewright.intake.Act;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.intake.rules.ThreadStamp;
import idlewright.intake.rules.TicketStamp;
import idlewright.people.Role;
import idlewright.reference.verdict.Verdict;
import java.util.ArrayList;
import java.util.Comparator;
import java.util.EnumSet;
import java.util.List;
import java.util.Set;
import org.jspecify.annotations.Nullable;
import org.springframework.core.annotation.Order;
import org.springframework.stereotype.Component;

/** What the bench tells on a ticket: every test on each thread it bears on, what could be behind it, and the next test. */
@Component
@Order(6)
class BenchStrand implements Strand {

    private final Tickets tickets;
    private final Suspects suspects;

    BenchStrand(Tickets tickets, Suspects suspects) {
        this.tickets = tickets;
        this.suspects = suspects;
    }

    @Override
    public Set<Chapter> chapters() {
        return EnumSet.of(Chapter.TEST, Chapter.CAUSE, Chapter.PROOF);
    }

    @Override
    public List<Knot> knots(TicketNumber number) {
        TicketView ticket = tickets.get(number);
        List<Told> tests = suspects.tests(ticket);
        var knots = new ArrayList<Knot>();
        for (Told told : tests) {
            told.row().places().forEach(place -> knots.add(test(told.view(), place)));
        }
        for (SymptomView symptom : ticket.symptoms()) {
            if (!symptom.ended() && !symptom.has(ThreadStamp.TRACED) && !ticket.has(TicketStamp.BILLED)) {
                open(ticket, symptom, tests, knots);
            }
        }
        return knots;
    }

    private void open(TicketView ticket, SymptomView symptom, List<Told> tests, List<Knot> knots) {
        SymptomRef ref = symptom.ref();
        boolean tested = tests.stream()
                .anyMatch(told -> told.row().bearsOn(ref) && !told.kept().isEmpty());
        if (tested) {
            Ranking ranking = suspects.rank(ticket, ref, tests);
            var likeliest = ranking.likeliest();
            knots.add(Knot.open(
                            ref.place(),
                            Chapter.CAUSE,
                            "What could it be",
                            "%s %s, %s."
                                    .formatted(
                                            likeliest.cause().name(),
                                            likeliest.share(),
                                            ranking.confidence().words()),
                            Act.also(
                                    "All causes and why",
                                    ref.url() + "/causes",
                                    Role.TECHNICIAN,
                                    Role.OWNER,
                                    Role.WRITER))
                    .with("bench/knots :: causes", ranking));
        }
        if (ticket.has(TicketStamp.AGREED)) {
            knots.add(Knot.open(
                    ref.place(),
                    Chapter.TEST,
                    "Next test",
                    tested ? "Until one cause stands alone." : "Nothing is tested yet.",
                    Act.main("Take the next test", "/bay/" + ticket.number(), Role.TECHNICIAN)));
        }
    }

    private static Knot test(MeasurementView view, int place) {
        return new Knot(
                place,
                view.startedAt(),
                view.technician(),
                view.after() ? Chapter.PROOF : Chapter.TEST,
                view.procedureName()
                        + (view.after() ? ", after the repair" : "")
                        + (view.finished() ? "" : ", not finished"),
                said(view),
                "bench/knots :: measurement",
                view,
                figures(view),
                view.finished()
                        ? List.of(Act.also("Open the test", "/measurements/" + view.id(), Role.TECHNICIAN, Role.OWNER))
                        : List.of(Act.also("Go on with it", "/measurements/" + view.id(), Role.TECHNICIAN, Role.OWNER)),
                shows(view));
    }

    /** What it shows; the readings that say so stand in a table of their own on paper. */
    private static String shows(MeasurementView view) {
        String shows = String.join("; ", view.outcomes());
        return shows.isEmpty() ? "" : Character.toUpperCase(shows.charAt(0)) + shows.substring(1) + ".";
    }

    /** One sentence: what it shows, then the readings that say so, those outside first. */
    static String said(MeasurementView view) {
        if (view.readings().isEmpty()) {
            return "Nothing is read yet.";
        }
        String shows = String.join("; ", view.outcomes());
        List<String> key = view.readings().stream()
                .filter(reading -> reading.judged())
                .sorted(Comparator.comparingInt(reading -> reading.verdict() == Verdict.OUTSIDE ? 0 : 1))
                .limit(3)
                .map(reading -> reading.label() + ": " + reading.shown()
                        + (reading.value() == null ? "" : ", " + reading.called()))
                .toList();
        List<String> told = key.isEmpty()
                ? view.readings().stream()
                        .limit(3)
                        .map(reading -> reading.label() + ": " + reading.shown())
                        .toList()
                : key;
        String sentence = shows.isEmpty() ? String.join("; ", told) : shows + " (" + String.join("; ", told) + ")";
        return Character.toUpperCase(sentence.charAt(0)) + sentence.substring(1) + ".";
    }

    private static List<Knot.Figure> figures(MeasurementView view) {
        boolean anyJudged = view.readings().stream().anyMatch(ReadingView::judged);
        return view.readings().stream()
                .filter(reading -> !anyJudged || reading.judged())
                .map(reading -> new Knot.Figure(
                        reading.label(),
                        reading.shown(),
                        reading.called(),
                        reading.ground(),
                        view.after(),
                        scale(reading)))
                .toList();
    }

    private static Knot.@Nullable Scale scale(ReadingView reading) {
        return reading.plot() == null
                        || reading.value() == null
                        || reading.plot().low() == null && reading.plot().high() == null
                ? null
                : new Knot.Scale(
                        reading.plot().low(),
                        reading.plot().high(),
                        reading.value().doubleValue());
    }
}
