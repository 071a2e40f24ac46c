package idlewright.demo;

import static idlewright.demo.Cast.TAMSIN;
import static idlewright.demo.Cast.WREN;
import static idlewright.demo.Trial.choose;
import static idlewright.demo.Trial.take;

import idlewright.billing.rules.Agreement;
import idlewright.billing.rules.Channel;
import idlewright.billing.rules.Line;
import idlewright.billing.rules.LineKind;
import idlewright.demo.Cast.Member;
import idlewright.demo.Fleet.Car;
import idlewright.intake.SymptomRef;
import idlewright.intake.TicketNumber;
import idlewright.intake.Tickets.Opening;
import idlewright.journal.rules.ImageMark.Kind;
import idlewright.repair.rules.Answer;
import idlewright.repair.rules.Check;
import idlewright.repair.rules.FittedPart;
import idlewright.repair.rules.Pay;
import idlewright.repair.rules.RemovedPart;
import idlewright.repair.rules.Went;
import java.io.ByteArrayInputStream;
import java.math.BigDecimal;
import java.time.LocalTime;
import java.util.EnumMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import java.util.function.Consumer;

/**
 * The bakery's van that hesitates and drinks: heard, tested, traced, agreed and repaired within a day, and most of its tests
 * repeated; the proof waits for the last two, fuel trims and air flow.
 */
final class GrandRow {

    static final String KEY = "grand row";

    private static final Map<String, String> HESITATION = Map.ofEntries(
            Map.entry("since", "spring"),
            Map.entry("often", "every day"),
            Map.entry("engine", "both"),
            Map.entry("phase", "tip-in"),
            Map.entry("after", "the air filter was changed in April, an oiled one"),
            Map.entry("weather", "any"),
            Map.entry("lamp", "off"),
            Map.entry("better", "better empty, worse with a full load"),
            Map.entry("from", "pulling out of the yard, from 1,500 rpm"),
            Map.entry("laden", "laden"));

    private static final Map<String, String> ECONOMY = Map.of(
            "since", "spring",
            "often", "every time",
            "engine", "both",
            "phase", "cruise",
            "lamp", "off",
            "measured", "full tank to full tank",
            "fill-ups", "86,102 km full, 86,541 km 52.9 L full, 86,930 km 47.3 L full",
            "route", "the same round every night, same load, winter tyres off in March");

    private final Script script;
    private final Days days;
    private final Car car = Objects.requireNonNull(Fleet.CARS.get(Fleet.LEAD));
    private final Bay bay = new Bay(car, 22);

    private GrandRow(Script script, Days days) {
        this.script = script;
        this.days = days;
    }

    static void into(Script script, Days days) {
        new GrandRow(script, days).play();
    }

    private void play() {
        step(8, 12, WREN, this::open);
        step(8, 20, WREN, this::agreeToTheDiagnosis);
        step(9, 2, TAMSIN, scene -> {
            scene.tickets().take(number(scene));
            scene.perform(
                    number(scene),
                    List.of(1),
                    false,
                    Trial.onTheRoad(
                            "reproduce",
                            91,
                            choose("complaint", "seen"),
                            take("note-rpm", "1500", "rpm"),
                            take("note-coolant", "91", "°C")));
        });
        test(9, 11, bay.codes("P0171"));
        both(
                9,
                18,
                Trial.hot(
                        "trims",
                        780,
                        91,
                        take("short-idle", 1, "+0.8", "%"),
                        take("long-idle", 1, "+3.9", "%"),
                        take("short-2500", 1, "+1.2", "%"),
                        take("long-2500", 1, "+14.4", "%")));
        test(
                9,
                27,
                Trial.hot(
                        "load",
                        780,
                        92,
                        take("load-idle", "20.4", "%"),
                        take("load-2500", "18.6", "%"),
                        choose("rise", "smooth")));
        both(
                9,
                34,
                Trial.hot(
                        "air-flow",
                        780,
                        92,
                        take("flow-idle", "3.1", "g/s"),
                        take("rpm-idle", "780", "rpm"),
                        take("flow-2500", "9.6", "g/s"),
                        take("rpm-2500", "2500", "rpm"),
                        take("barometer", "101.1", "kPa")));
        test(
                9,
                45,
                Trial.keyOn(
                        "sensor-supply",
                        take("battery", "12.44", "V"),
                        take("supply", "12.36", "V"),
                        take("ground-pin", "0.02", "V")));
        test(9, 54, bay.signal(0.86));
        test(10, 2, bay.sweep(true));
        test(10, 9, bay.wiggleNothing());
        test(10, 14, bay.look("dirty", "tight", "dirty", "whole", "sound", "dry"));
        step(10, 24, TAMSIN, this::drive);
        step(10, 52, TAMSIN, this::decide);
        step(11, 4, WREN, this::offer);
        step(11, 20, WREN, this::agree);
        step(13, 5, TAMSIN, this::fit);
        step(13, 48, TAMSIN, this::finish);
        repeated(14, 2, bay.codesCleared());
        repeated(14, 9, bay.lookGood());
        repeated(14, 20, bay.signal(1));
        repeated(14, 31, bay.sweep(false));
        repeated(14, 40, bay.load(1));
        repeated(15, 5, bay.notSeen());
        repeated(15, 22, Trial.onTheRoad("log-drive", 92, choose("log", "nothing")));
    }

    private void step(int hour, int minute, Member who, Consumer<Scene> act) {
        script.at(days.at(days.last(), LocalTime.of(hour, minute)), who, act);
    }

    private void test(int hour, int minute, Trial trial) {
        step(hour, minute, TAMSIN, scene -> scene.perform(number(scene), List.of(1), false, trial));
    }

    private void both(int hour, int minute, Trial trial) {
        step(hour, minute, TAMSIN, scene -> scene.perform(number(scene), List.of(1, 2), false, trial));
    }

    private void repeated(int hour, int minute, Trial trial) {
        step(hour, minute, TAMSIN, scene -> scene.perform(number(scene), List.of(1), true, trial));
    }

    private static TicketNumber number(Scene scene) {
        return scene.ticket(KEY);
    }

    private static SymptomRef thread(Scene scene, int place) {
        return new SymptomRef(number(scene), place);
    }

    private void open(Scene scene) {
        TicketNumber opened =
                scene.tickets().open(new Opening(scene.number(car.plate()), car.kmAgo(0), null, "7", "SHOW", "YES"));
        scene.remember(KEY, opened.value());
        scene.tickets()
                .hear(
                        opened,
                        "stumble-tip-in",
                        "It hesitates when I pull out of the yard with a full load, and then it goes with a jerk.");
        scene.tickets().answer(thread(scene, 1), HESITATION);
        scene.tickets()
                .hear(opened, "poor-economy", "It has been drinking since spring, two litres more than it used to.");
        scene.tickets().answer(thread(scene, 2), ECONOMY);
    }

    private void agreeToTheDiagnosis(Scene scene) {
        scene.authorisations()
                .agree(
                        number(scene),
                        Agreement.DIAGNOSIS,
                        scene.money("94.80"),
                        "find out, and call me before you buy anything",
                        Channel.IN_PERSON,
                        "Ines Okafor",
                        null);
        scene.charges().addDiagnosis(number(scene), scene.money("94.80"));
    }

    private void drive(Scene scene) {
        long test =
                scene.begin(number(scene), List.of(1), false, Trial.onTheRoad("log-drive", 92, choose("log", "lean")));
        scene.logs().keep(test, new ByteArrayInputStream(DriveLog.csv()), "grand-row-drive.csv");
        scene.bench().finish(test);
    }

    private void decide(Scene scene) {
        scene.findings()
                .decide(
                        thread(scene, 1),
                        "air-sensor-low",
                        "filter oil on the film, flow low for the engine, supply good",
                        "Replace the air-flow sensor, clean the housing, fit a dry filter");
        scene.findings()
                .decide(
                        thread(scene, 2),
                        "air-sensor-low",
                        "the control unit adds fuel for air it is not told of",
                        "The same repair");
        scene.tickets().putDown(number(scene));
    }

    private void offer(Scene scene) {
        var estimate = scene.estimates()
                .write(
                        number(scene),
                        List.of(
                                new Line(
                                        1,
                                        LineKind.PART,
                                        "Air-flow sensor",
                                        BigDecimal.ONE,
                                        scene.money("225.83"),
                                        "MV-4471-B"),
                                new Line(
                                        1,
                                        LineKind.LABOUR,
                                        "Air-flow sensor replaced, housing cleaned, seals and clamps checked",
                                        BigDecimal.ONE,
                                        scene.rates().labourRate(),
                                        null)),
                        "The oiled filter goes out; a dry one is in the car already, at no cost.");
        scene.estimates().offer(estimate.id(), "by phone");
    }

    private void agree(Scene scene) {
        var estimate = scene.estimates().latest(number(scene)).orElseThrow();
        scene.authorisations()
                .agree(
                        number(scene),
                        Agreement.REPAIR,
                        estimate.total().gross(),
                        "go ahead, and I want to see the old one",
                        Channel.PHONE,
                        "Ines Okafor",
                        estimate.id());
    }

    private void fit(Scene scene) {
        scene.tickets().take(number(scene));
        long swap = scene.swaps()
                .start(
                        thread(scene, 1),
                        new RemovedPart(
                                "MV-4471-B", "Corrin", "14/19", "film coated with filter oil", Went.WARRANTY_HOLD),
                        new FittedPart(
                                "Air-flow sensor",
                                "MV-4471-B",
                                "Corrin",
                                "L2688",
                                "Weir Street Factors",
                                scene.money("167.28")),
                        false,
                        new Pay.ByEstimate(line(scene, LineKind.PART)));
        long old = scene.swaps()
                .photograph(swap, true, Snapshot.ofSensor(true), "old sensor.png")
                .id();
        mark(scene, old, Kind.CIRCLE, "47", "50", "56", "50", "oil on the film");
        mark(scene, old, Kind.ARROW, "72", "53", "80", "66", "flow mark");
        long fitted = scene.swaps()
                .photograph(swap, false, Snapshot.ofSensor(false), "fitted sensor.png")
                .id();
        mark(scene, fitted, Kind.ARROW, "72", "53", "80", "66", "same way");
        var answers = new EnumMap<Check, Answer>(Check.class);
        for (Check check : Check.values()) {
            answers.put(check, Answer.yes());
        }
        answers.put(Check.MARK_MATCHED, new Answer(Answer.Seen.YES, "towards the engine"));
        answers.put(Check.OLD_PART, new Answer(Answer.Seen.YES, "shown, then tagged for the warranty"));
        scene.swaps().answer(swap, answers);
        scene.swaps().makeFinal(swap);
    }

    private void finish(Scene scene) {
        scene.labours()
                .add(
                        thread(scene, 1),
                        "Air-flow sensor replaced, housing cleaned, seals and clamps checked",
                        BigDecimal.ONE,
                        new Pay.ByEstimate(line(scene, LineKind.LABOUR)));
        scene.labours().done(thread(scene, 1), "Air-flow sensor replaced, housing cleaned, dry filter in place.");
        scene.labours()
                .done(thread(scene, 2), "Repaired with the first complaint: one sensor misled the engine in both.");
        scene.tickets().putDown(number(scene));
    }

    private static void mark(
            Scene scene, long exhibit, Kind kind, String x, String y, String toX, String toY, String words) {
        scene.marks()
                .add(
                        exhibit,
                        kind,
                        new BigDecimal(x),
                        new BigDecimal(y),
                        new BigDecimal(toX),
                        new BigDecimal(toY),
                        words);
    }

    private static long line(Scene scene, LineKind kind) {
        return scene.charges().uncharged(number(scene)).stream()
                .filter(line -> line.line().kind() == kind)
                .findFirst()
                .orElseThrow()
                .id();
    }
}
