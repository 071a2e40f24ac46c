package idlewright.warranty;

import idlewright.bench.Bench;
import idlewright.bench.MeasurementView;
import idlewright.billing.Authorisations;
import idlewright.billing.Authorisations.AuthorisationView;
import idlewright.intake.Chapter;
import idlewright.intake.Knot;
import idlewright.intake.Strand;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketView;
import idlewright.intake.TicketView.SymptomView;
import idlewright.intake.Tickets;
import idlewright.journal.Exhibit;
import idlewright.journal.Exhibits;
import idlewright.journal.Journal;
import idlewright.journal.Marked;
import idlewright.journal.Marks;
import idlewright.journal.rules.Chain;
import idlewright.journal.rules.Entry;
import idlewright.journal.rules.ImageMark;
import idlewright.journal.rules.Sketch;
import idlewright.repair.SwapView;
import idlewright.repair.Swaps;
import idlewright.repair.rules.Check;
import idlewright.warranty.Evidence.Agreed;
import idlewright.warranty.Evidence.Fact;
import idlewright.warranty.Evidence.Line;
import idlewright.warranty.Evidence.Part;
import idlewright.warranty.Evidence.Photo;
import idlewright.warranty.Evidence.Taken;
import idlewright.warranty.Evidence.Told;
import idlewright.warranty.rules.Discretion;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.Collections;
import java.util.Comparator;
import java.util.List;
import java.util.Locale;
import java.util.Objects;
import java.util.stream.Collectors;
import java.util.stream.Stream;
import org.jspecify.annotations.Nullable;
import org.springframework.stereotype.Component;

/** Gathers what all rooms know of one thread, less what its receiver is not to see. */
@Component
class Gathering {

    /** More of other tickets' links than this tell nobody anything; the file would only grow. */
    private static final int MOST_LINKS = 20_000;

    private final Tickets tickets;
    private final List<Strand> strands;
    private final Authorisations authorisations;
    private final Bench bench;
    private final Swaps swaps;
    private final Exhibits exhibits;
    private final Marks marks;
    private final Journal journal;

    Gathering(
            Tickets tickets,
            List<Strand> strands,
            Authorisations authorisations,
            Bench bench,
            Swaps swaps,
            Exhibits exhibits,
            Marks marks,
            Journal journal) {
        this.tickets = tickets;
        this.strands = strands;
        this.authorisations = authorisations;
        this.bench = bench;
        this.swaps = swaps;
        this.exhibits = exhibits;
        this.marks = marks;
        this.journal = journal;
    }

    Evidence of(
            SymptomRef thread,
            String code,
            @Nullable String replaces,
            boolean named,
            boolean withOriginals,
            Instant at,
            String by,
            String fingerprint) {
        TicketView ticket = tickets.get(thread.ticket());
        SymptomView symptom = ticket.symptom(thread.place());
        var agreed = authorisations.of(thread.ticket());
        Discretion discretion = named ? Discretion.none() : discretion(ticket, agreed);
        var knots = knots(thread);
        var photos = new ArrayList<Photo>();
        var originals = new ArrayList<Photo>();
        var kept = exhibits.of(thread.ticket().value());
        var marked = marks.on(kept);
        for (Exhibit exhibit : kept) {
            if (exhibit.place() != null && exhibit.place() != thread.place()) {
                continue;
            }
            String caption = discretion.read(exhibit.caption().isEmpty() ? exhibit.what() : exhibit.caption());
            if (exhibit.picture()) {
                Path shown = exhibits.picture(exhibit.id(), false);
                photos.add(new Photo(
                        exhibit,
                        "photos/photo-%02d.%s"
                                .formatted(photos.size() + 1, exhibit.mime().equals("image/png") ? "png" : "jpg"),
                        caption,
                        shown,
                        discreet(marked.get(exhibit.id()), discretion)));
            }
            if (withOriginals) {
                originals.add(new Photo(
                        exhibit,
                        "originals/%s-%02d.%s"
                                .formatted(plain(exhibit.what()), originals.size() + 1, ending(exhibit.name())),
                        caption,
                        exhibits.file(exhibit.id()),
                        null));
            }
        }
        var lines = new ArrayList<Line>();
        String gap = lines(thread.ticket().value(), discretion, lines);
        return new Evidence(
                code,
                replaces,
                at,
                by,
                fingerprint,
                named,
                facts(ticket, named),
                symptom,
                discretion.read(symptom.words()),
                discretion.read(symptom.answers().stream()
                        .map(answer -> answer.asks().replaceAll("\\?$", "") + ": " + answer.answer())
                        .collect(Collectors.joining(" · "))),
                knots.stream().map(knot -> told(knot, discretion)).toList(),
                bench.of(thread.ticket()).stream()
                        .filter(test -> test.places().contains(thread.place()))
                        .flatMap(test -> taken(test, discretion))
                        .toList(),
                swaps.of(thread.ticket()).stream()
                        .filter(swap -> swap.thread().equals(thread))
                        .map(swap -> part(swap, discretion))
                        .toList(),
                agreed.stream().map(one -> agreed(one, discretion)).toList(),
                photos,
                originals,
                lines,
                gap,
                lines.isEmpty() ? journal.head() : lines.get(lines.size() - 1).hash());
    }

    private static Marked discreet(Marked whole, Discretion discretion) {
        var marks = whole.marks().stream()
                .map(mark -> new ImageMark(
                        mark.id(),
                        mark.kind(),
                        mark.x(),
                        mark.y(),
                        mark.toX(),
                        mark.toY(),
                        discretion.read(mark.words()),
                        mark.by(),
                        mark.at()))
                .toList();
        return new Marked(
                whole.exhibit(),
                Sketch.of(whole.sketch().width(), whole.sketch().height(), marks),
                marks);
    }

    private static Discretion discretion(TicketView ticket, List<AuthorisationView> agreed) {
        var customer = ticket.customer();
        var whole = new ArrayList<@Nullable String>();
        Collections.addAll(
                whole,
                customer.phone(),
                customer.email(),
                customer.address(),
                ticket.vehicle().plate());
        var names = new ArrayList<@Nullable String>();
        names.add(customer.name());
        agreed.forEach(one -> names.add(one.byWhom()));
        return Discretion.about(whole, names);
    }

    private static List<Fact> facts(TicketView ticket, boolean named) {
        var facts = new ArrayList<Fact>();
        var vehicle = ticket.vehicle();
        if (named) {
            var customer = ticket.customer();
            facts.add(new Fact("Customer", joined(customer.name(), customer.address())));
            if (customer.phone() != null) {
                facts.add(new Fact("Phone", customer.phone()));
            }
        }
        facts.add(
                new Fact("Vehicle", vehicle.name() + (vehicle.modelYear() == null ? "" : ", " + vehicle.modelYear())));
        facts.add(new Fact("Engine", vehicle.engineWords()));
        facts.add(new Fact("VIN", vehicle.vin() == null ? "not taken down" : vehicle.vin()));
        if (named && vehicle.plate() != null) {
            facts.add(new Fact("Plate", vehicle.plate()));
        }
        if (ticket.distanceIn() != null) {
            facts.add(new Fact("Odometer in", ticket.distanceIn().words()));
        }
        if (ticket.distanceOut() != null) {
            facts.add(new Fact("Odometer out", ticket.distanceOut().words()));
        }
        facts.add(new Fact("Ticket", ticket.number().toString()));
        return facts;
    }

    /** What was tied to this thread, and what was said for the whole visit after it; nothing that is still open. */
    private List<Knot> knots(SymptomRef thread) {
        return strands.stream()
                .filter(strand -> !(strand instanceof WarrantyStrand))
                .flatMap(strand -> strand.knots(thread.ticket()).stream())
                .filter(knot -> !knot.open())
                .filter(knot ->
                        knot.place() == thread.place() || (knot.place() == 0 && knot.chapter() == Chapter.AFTER))
                .sorted(Comparator.comparing(Knot::at))
                .toList();
    }

    private static Told told(Knot knot, Discretion discretion) {
        return new Told(
                knot.chapter(),
                knot.at(),
                discretion.read(knot.who() == null ? "" : knot.who()),
                discretion.read(knot.title()),
                discretion.read(knot.figures().isEmpty() || knot.paper() == null ? knot.said() : knot.paper()),
                knot.figures());
    }

    private static Stream<Taken> taken(MeasurementView test, Discretion discretion) {
        return Stream.concat(test.readings().stream(), test.struck().stream()).map(reading -> {
            boolean number = reading.value() != null && reading.unit() != null;
            return new Taken(
                    test.procedureName(),
                    reading.label() + (reading.derived() ? " (calculated)" : ""),
                    number ? reading.value().toPlainString() : discretion.read(reading.shown()),
                    number ? reading.unit().symbol() : "",
                    discretion.read(reading.shown()),
                    test.after(),
                    reading.struckBecause() == null
                            ? reading.called()
                            : discretion.read("corrected later: " + reading.struckBecause()),
                    reading.ground(),
                    discretion.read(
                            test.conditionWords() + (test.instrument() == null ? "" : ", with " + test.instrument())),
                    reading.at() == null ? test.startedAt() : reading.at(),
                    reading.who() == null ? test.technician() : reading.who(),
                    reading.curve());
        });
    }

    private static Part part(SwapView swap, Discretion discretion) {
        var facts = new ArrayList<Fact>();
        var removed = swap.removed();
        facts.add(new Fact(
                "Taken out",
                joined(
                        removed.number() == null ? "number not readable" : removed.number(),
                        removed.maker(),
                        removed.dateCode() == null ? null : "date code " + removed.dateCode(),
                        removed.condition())));
        facts.add(new Fact("Where it is", swap.went().words()));
        var fitted = swap.fitted();
        facts.add(new Fact(
                "Put in",
                joined(
                        fitted.number(),
                        fitted.maker(),
                        fitted.serial() == null ? null : "serial or lot " + fitted.serial(),
                        "from " + fitted.supplier())));
        facts.add(new Fact("Numbers", swap.numberWords()));
        var checks = new ArrayList<Fact>();
        for (Check check : Check.values()) {
            checks.add(new Fact(check.label(), discretion.read(swap.mark(check))));
        }
        return new Part(
                swap.title(),
                swap.state(),
                facts.stream()
                        .map(fact -> new Fact(fact.name(), discretion.read(fact.value())))
                        .toList(),
                checks,
                swap.at(),
                swap.who());
    }

    private static String joined(@Nullable String... words) {
        return Stream.of(words).filter(Objects::nonNull).collect(Collectors.joining(", "));
    }

    private static Agreed agreed(AuthorisationView one, Discretion discretion) {
        return new Agreed(
                one.at(),
                one.kind().words(),
                one.amount().textWithCurrency(),
                one.channel().words(),
                discretion.read(one.byWhom()),
                discretion.read(one.words()),
                one.takenBy(),
                one.replaced());
    }

    /** The chain from the ticket's first entry to the head; of other tickets the links alone. */
    private @Nullable String lines(int ticket, Discretion discretion, List<Line> lines) {
        var own = journal.of(ticket);
        if (own.isEmpty()) {
            return null;
        }
        long first = own.get(0).id();
        var newestFirst = new ArrayList<Entry>();
        long before = Long.MAX_VALUE;
        while (before > first && newestFirst.size() < MOST_LINKS) {
            var page = journal.latest(1_000, before);
            if (page.isEmpty()) {
                break;
            }
            page.stream().filter(entry -> entry.id() >= first).forEach(newestFirst::add);
            before = page.get(page.size() - 1).id();
        }
        if (before > first && newestFirst.size() >= MOST_LINKS) {
            own.forEach(entry -> lines.add(line(entry, ticket, discretion)));
            lines.add(line(newestFirst.get(0), ticket, discretion));
            return "Only this ticket's own entries and the head are here: over %,d entries of other tickets lie between."
                    .formatted(MOST_LINKS);
        }
        Collections.reverse(newestFirst);
        newestFirst.forEach(entry -> lines.add(line(entry, ticket, discretion)));
        return null;
    }

    private static Line line(Entry entry, int ticket, Discretion discretion) {
        boolean own = entry.ticket() != null && entry.ticket() == ticket;
        boolean whole = own && !discretion.hides(Chain.canonical(entry));
        return new Line(
                entry.id(),
                entry.at(),
                own ? discretion.read(entry.person()) : "",
                own ? discretion.read(entry.sentence()) : null,
                entry.previousHash(),
                entry.hash(),
                whole ? entry : null);
    }

    private static String plain(String what) {
        String plain =
                what.toLowerCase(Locale.ROOT).replaceAll("[^a-z0-9]+", "-").replaceAll("^-|-$", "");
        return plain.isEmpty() ? "file" : plain;
    }

    private static String ending(String name) {
        String ending = name.substring(name.lastIndexOf('.') + 1).toLowerCase(Locale.ROOT);
        return ending.matches("[a-z0-9]{1,8}") ? ending : "bin";
    }
}
