package idlewright.demo;

import static idlewright.demo.Trial.choose;
import static idlewright.demo.Trial.take;

import idlewright.demo.Fleet.Car;
import java.util.ArrayList;
import java.util.Locale;
import java.util.Random;

/**
 * What the instruments of the demo shop show on one vehicle. Air flow follows displacement and speed: a healthy 2.2 L engine
 * draws about 3.2 g/s at idle and 12 g/s at 2,500 rpm without load, each vehicle a few per cent to either side.
 */
final class Bay {

    private static final double IDLE_GRAMS_PER_LITRE = 3.2 / 2.2;
    private static final double GRAMS_PER_LITRE_AT_2500 = 12.0 / 2.2;

    private final Car car;
    private final Random chance;
    private final double breathing;
    private final double idleBreathing;

    Bay(Car car, long seed) {
        this.car = car;
        this.chance = new Random(seed);
        // The engine's own share stays with the vehicle, the day's share with the visit.
        var its = new Random(car.vin().hashCode());
        this.breathing = 1 + 0.028 * within(its);
        this.idleBreathing = 1 + 0.03 * within(its);
    }

    /** Even, and never far out: no reading of a healthy engine is to look like a fault by chance. */
    private static double within(Random chance) {
        return (chance.nextDouble() * 2 - 1) * Math.sqrt(3);
    }

    private double about(double middle, double spread) {
        return middle + spread * within(chance);
    }

    private String say(double value, int decimals) {
        return String.format(Locale.ROOT, "%." + decimals + "f", value);
    }

    private String barometer() {
        return say(about(101.2, 0.5), 1);
    }

    private double coolant() {
        return Math.rint(about(90, 2));
    }

    private Trial hot(String procedure, double coolantC, Trial.Take... takes) {
        return Trial.hot(procedure, car.engine().idleRpm(), coolantC, takes);
    }

    Trial reproduce(String seen, double rpm) {
        return Trial.onTheRoad(
                "reproduce",
                coolant(),
                choose("complaint", seen),
                take("note-rpm", say(Math.rint(about(rpm, 60) / 50) * 50, 0), "rpm"),
                take("note-coolant", say(coolant(), 0), "°C"));
    }

    Trial notSeen() {
        return Trial.onTheRoad("reproduce", coolant(), choose("complaint", "not-seen"));
    }

    Trial codes(String stored) {
        return stored.isEmpty()
                ? Trial.keyOn(
                        "codes", choose("stored", "none"), choose("monitors", "ready"), take("not-ready", "0", ""))
                : Trial.keyOn(
                        "codes",
                        choose("stored", stored),
                        choose("monitors", "ready"),
                        take("not-ready", "0", ""),
                        take("freeze-load", say(about(46, 6), 1), "%"),
                        take("freeze-rpm", say(Math.rint(about(2150, 150)), 0), "rpm"));
    }

    /** After clearing: no code, and two monitors that must run again. */
    Trial codesCleared() {
        return Trial.keyOn("codes", choose("stored", "none"), choose("monitors", "some"), take("not-ready", "2", ""));
    }

    Trial look(String filter, String duct, String sensor, String hoses, String wiring, String fuel) {
        boolean flow = !car.engine().metering().equals("MANIFOLD_PRESSURE");
        return flow
                ? Trial.keyOff(
                        "visual",
                        choose("filter", filter),
                        choose("duct", duct),
                        choose("air-sensor", sensor),
                        choose("hoses", hoses),
                        choose("wiring", wiring),
                        choose("fuel-traces", fuel))
                : Trial.keyOff(
                        "visual",
                        choose("filter", filter),
                        choose("duct", duct),
                        choose("hoses", hoses),
                        choose("wiring", wiring),
                        choose("fuel-traces", fuel));
    }

    Trial lookGood() {
        return look("clean", "tight", "right", "whole", "sound", "dry");
    }

    /** Trims of one bank, the total split as control units do: most of it learned, the rest moving. */
    Trial trims(double idle, double at2500) {
        double shortIdle = Math.rint(about(0.3, 0.5) * 10) / 10;
        double short2500 = Math.rint(about(0.8, 0.6) * 10) / 10;
        return hot(
                "trims",
                coolant(),
                take("short-idle", 1, signed(shortIdle), "%"),
                take("long-idle", 1, signed(idle - shortIdle), "%"),
                take("short-2500", 1, signed(short2500), "%"),
                take("long-2500", 1, signed(at2500 - short2500), "%"));
    }

    private String signed(double percent) {
        return String.format(Locale.ROOT, "%+.1f", percent);
    }

    Trial healthyTrims() {
        return trims(about(1.2, 1.9), about(1.6, 1.8));
    }

    /** Air flow as reported, as a share of what the engine draws. */
    Trial airFlow(double idleShare, double shareAt2500) {
        double idleRpm = Math.rint(about(car.engine().idleRpm(), 8));
        double rpm = Math.rint(about(2500, 14));
        double litres = car.engine().displacement();
        return airFlow(
                litres * IDLE_GRAMS_PER_LITRE * idleBreathing * idleRpm / 780 * about(idleShare, 0.006),
                idleRpm,
                litres * GRAMS_PER_LITRE_AT_2500 * breathing * rpm / 2500 * about(shareAt2500, 0.006),
                rpm);
    }

    Trial airFlow(double idle, double idleRpm, double at2500, double rpm) {
        return hot(
                "air-flow",
                coolant(),
                take("flow-idle", say(idle, 2), "g/s"),
                take("rpm-idle", say(idleRpm, 0), "rpm"),
                take("flow-2500", say(at2500, 2), "g/s"),
                take("rpm-2500", say(rpm, 0), "rpm"),
                take("barometer", barometer(), "kPa"));
    }

    Trial healthyAirFlow() {
        return airFlow(1, 1);
    }

    Trial load(double share) {
        return hot(
                "load",
                coolant(),
                take("load-idle", say(about(21, 0.9) * share, 1), "%"),
                take("load-2500", say(about(23, 0.8) * share, 1), "%"),
                choose("rise", "smooth"));
    }

    Trial supply(double battery, double drop) {
        return Trial.keyOn(
                "sensor-supply",
                take("battery", say(battery, 2), "V"),
                take("supply", say(battery - drop, 2), "V"),
                take("ground-pin", say(Math.min(drop, 0.03), 2), "V"));
    }

    Trial supplyGood() {
        return supply(about(12.48, 0.08), Math.abs(about(0.07, 0.01)));
    }

    /** The branch that is low names the wire: here the feed. */
    Trial supplyFeedBad() {
        double battery = about(12.5, 0.05);
        return Trial.keyOn(
                "sensor-supply",
                take("battery", say(battery, 2), "V"),
                take("supply", say(battery - 1.31, 2), "V"),
                take("ground-pin", "0.02", "V"),
                take("feed-alone", say(battery - 1.29, 2), "V"),
                take("ground-alone", say(battery - 0.02, 2), "V"));
    }

    Trial supplyFeedGood() {
        double battery = about(12.5, 0.05);
        return Trial.keyOn(
                "sensor-supply",
                take("battery", say(battery, 2), "V"),
                take("supply", say(battery - 0.06, 2), "V"),
                take("ground-pin", "0.02", "V"),
                take("feed-alone", say(battery - 0.05, 2), "V"),
                take("ground-alone", say(battery - 0.02, 2), "V"));
    }

    Trial signal(double share) {
        return hot(
                "sensor-signal",
                coolant(),
                take("signal-idle", say(about(1.02, 0.02) * Math.sqrt(share), 2), "V"),
                take("signal-2500", say(about(1.74, 0.03) * Math.sqrt(share), 2), "V"),
                take("signal-3500", say(about(2.12, 0.03) * Math.sqrt(share), 2), "V"));
    }

    Trial wiggleNothing() {
        return hot("wiggle", coolant(), choose("change", "none"));
    }

    Trial smoke(String where) {
        return Trial.keyOff("smoke", choose("leak", where));
    }

    Trial vacuum(double kPaBelow, String needle) {
        return hot(
                "vacuum",
                coolant(),
                take("vacuum-idle", say(kPaBelow, 0), "kPa"),
                take("barometer", barometer(), "kPa"),
                choose("needle", needle));
    }

    Trial healthyVacuum() {
        return vacuum(about(66, 1.2), "steady");
    }

    Trial fuelPressure(double keyOn, double underLoad, double litresIn30) {
        return Trial.keyOn(
                "fuel-pressure",
                take("pressure-key-on", say(keyOn, 0), "kPa"),
                take("pressure-load", say(underLoad, 0), "kPa"),
                take("volume", say(litresIn30, 2), "L"));
    }

    Trial fuelWeak() {
        return fuelPressure(about(352, 4), about(248, 8), about(0.38, 0.02));
    }

    Trial fuelGood() {
        return fuelPressure(about(372, 4), about(364, 3), about(0.92, 0.05));
    }

    Trial ignition(String spark, String plugs, int odd) {
        var takes = new ArrayList<Trial.Take>();
        takes.add(choose("spark", spark));
        takes.add(choose("plugs", plugs));
        for (int cylinder = 1; cylinder <= 4; cylinder++) {
            takes.add(take("peak", cylinder, say(about(11.2, 0.4) + (cylinder == odd ? 6.8 : 0), 1), "kV"));
        }
        return Trial.cranking("ignition", takes.toArray(new Trial.Take[0]));
    }

    Trial ignitionGood() {
        return ignition("all-good", "fine", 0);
    }

    Trial contribution(int weak) {
        var takes = new Trial.Take[4];
        for (int cylinder = 1; cylinder <= 4; cylinder++) {
            takes[cylinder - 1] = take(
                    "rpm-drop", cylinder, say(Math.rint(cylinder == weak ? about(34, 3) : about(92, 4)), 0), "rpm");
        }
        return hot("contribution", coolant(), takes);
    }

    Trial idleControl(String idle, String deposits) {
        return hot(
                "egr-idle",
                coolant(),
                choose("egr", "none"),
                choose("idle", idle),
                choose("deposits", deposits),
                take("idle-rpm", say(Math.rint(about(car.engine().idleRpm(), 8)), 0), "rpm"));
    }

    Trial coldSoak(double coolantOff, double warm) {
        double ambient = Math.rint(about(11, 3));
        return Trial.keyOn(
                "coolant-check",
                take("coolant", say(ambient + coolantOff, 0), "°C"),
                take("intake", say(ambient + 1, 0), "°C"),
                take("ambient", say(ambient, 0), "°C"),
                take("warm", say(warm, 0), "°C"));
    }

    Trial oxygen(double lowest, double highest, int switches, String forced) {
        return hot(
                "oxygen-sensor",
                coolant(),
                take("lowest", 1, say(lowest, 2), "V"),
                take("highest", 1, say(highest, 2), "V"),
                take("switches", 1, Integer.toString(switches), "times"),
                choose("forced", forced));
    }

    Trial battery(double rest, double cranking, double running) {
        return Trial.keyOn(
                "battery",
                take("rest", say(rest, 2), "V"),
                take("cranking", say(cranking, 2), "V"),
                take("running", say(running, 2), "V"));
    }

    Trial batteryGood() {
        return battery(about(12.62, 0.03), about(10.6, 0.15), about(14.2, 0.08));
    }

    Trial groundDrop(double volts) {
        return Trial.cranking("ground-drop", take("block-drop", say(volts, 2), "V"));
    }

    Trial backPressure(double idle, double at2500) {
        return hot(
                "back-pressure",
                coolant(),
                take("back-idle", say(idle, 1), "kPa"),
                take("back-2500", say(at2500, 1), "kPa"));
    }

    Trial purge(double open, double pinched, String draws) {
        return hot(
                "purge",
                coolant(),
                take("trim-open", signed(open), "%"),
                take("trim-pinched", signed(pinched), "%"),
                choose("draws", draws));
    }

    Trial camCrank(String pattern) {
        return Trial.cranking("cam-crank", choose("pattern", pattern));
    }

    Trial rolling(String wheels, String tyres) {
        return Trial.keyOff("rolling", choose("wheels", wheels), choose("tyres", tyres));
    }

    /** The signal over a slow ramp of about twenty seconds, ten readings a second; a worn film stands still for a while. */
    Trial sweep(boolean flat) {
        var columns = new StringBuilder();
        for (int tenth = 0; tenth <= 200; tenth++) {
            double share = tenth / 200.0;
            double shown = flat ? flattened(share) : share;
            columns.append(String.format(
                    Locale.ROOT,
                    "%.1f\t%.3f%n",
                    tenth / 10.0,
                    1.02 + 1.12 * Math.pow(shown, 0.85) + 0.003 * within(chance)));
        }
        return hot("sweep", coolant(), new Trial.Take("ramp", 0, columns.toString(), "s"));
    }

    private static double flattened(double share) {
        return share < 0.42 ? share : share < 0.58 ? 0.42 : 0.42 + (share - 0.58) * (0.58 / 0.42);
    }
}
