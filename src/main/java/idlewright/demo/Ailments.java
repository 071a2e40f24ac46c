package idlewright.demo;

import idlewright.demo.Ailment.Part;
import java.util.List;
import java.util.Map;

/** The faults of the demo shop; parts, makers, numbers and prices are invented. */
final class Ailments {

    private static final Map<String, String> TIP_IN = Map.of(
            "since", "two or three months", "often", "every day", "engine", "both", "phase", "tip-in", "lamp", "off");

    private static final Map<String, Ailment> ALL = Map.ofEntries(
            Map.entry(
                    "film",
                    new Ailment(
                            "hesitation",
                            List.of(
                                    "It waits before it pulls, and then it goes with a jerk.",
                                    "No life in it when I pull out of a junction.",
                                    "Flat when I put my foot down, worse with a load on."),
                            TIP_IN,
                            "air-sensor-low",
                            "filter oil on the film, flow low for the engine, supply good",
                            "Air-flow sensor replaced, filter housing cleaned, dry filter fitted.",
                            new Part("Air-flow sensor", "MV-4471-B", "MV-4471-B", "Corrin", "Weir Street Factors",
                                    "225.83", "167.28", "film coated with filter oil"),
                            "1.0",
                            "Air-flow sensor replaced, seals and clamps checked",
                            bay -> List.of(
                                    bay.reproduce("seen", 1600),
                                    bay.codes("P0171"),
                                    bay.look("dirty", "tight", "dirty", "whole", "sound", "dry"),
                                    bay.trims(4.6, 15.4),
                                    bay.airFlow(0.95, 0.80),
                                    bay.supplyGood(),
                                    bay.signal(0.86)),
                            bay -> List.of(
                                    bay.healthyTrims(),
                                    bay.healthyAirFlow(),
                                    bay.load(1),
                                    bay.signal(1),
                                    bay.lookGood()))),
            Map.entry(
                    "leak",
                    new Ailment(
                            "rough-idle",
                            List.of(
                                    "It shakes at the lights and settles once I drive.",
                                    "Rough when it stands, fine on the road.",
                                    "The whole cab trembles at idle."),
                            Map.of("since", "some weeks", "often", "every day", "engine", "both", "phase", "idle",
                                    "lamp", "steady"),
                            "air-leak",
                            "smoke comes out of a split in the hose behind the sensor",
                            "Intake hose replaced, both clamps renewed, smoke test tight.",
                            new Part("Intake hose", "IH-2206", "IH-2206", "Pallin", "Weir Street Factors", "64.80",
                                    "48.00", "split along the lower fold"),
                            "0.8",
                            "Intake hose and clamps replaced",
                            bay -> List.of(
                                    bay.reproduce("seen", 780),
                                    bay.codes("P0171"),
                                    bay.trims(17.2, 5.1),
                                    bay.vacuum(55, "steady"),
                                    bay.smoke("duct")),
                            bay -> List.of(
                                    bay.healthyTrims(),
                                    bay.healthyVacuum(),
                                    bay.smoke("none"),
                                    bay.load(1),
                                    bay.healthyAirFlow()))),
            Map.entry(
                    "fuel",
                    new Ailment(
                            "lack-of-power",
                            List.of(
                                    "It has no pull uphill any more, whatever I do.",
                                    "On the long hill I am down to second gear.",
                                    "Loses power when I need it, mostly warm."),
                            Map.of("since", "last month", "often", "every day", "engine", "hot", "phase", "under load",
                                    "lamp", "off", "power-when", "uphill"),
                            "fuel-low",
                            "pressure falls under load and the volume is short; air flow fits the engine",
                            "Fuel filter replaced, pressure and volume checked under load.",
                            new Part("Fuel filter", "FF-118", "FF-118", "Dunmore", "Ropewalk Parts", "58.05", "43.00",
                                    "black, hardly passes fuel"),
                            "1.2",
                            "Fuel filter replaced, line bled and checked for leaks",
                            bay -> List.of(
                                    bay.reproduce("seen", 3200),
                                    bay.codes(""),
                                    bay.trims(11.4, 16.8),
                                    bay.airFlow(1, 1),
                                    bay.fuelWeak()),
                            bay -> List.of(
                                    bay.healthyTrims(),
                                    bay.fuelGood(),
                                    bay.load(1),
                                    bay.healthyAirFlow()))),
            Map.entry(
                    "coil",
                    new Ailment(
                            "misfire-load",
                            List.of(
                                    "It jerks when I pull hard, as if somebody kicked it.",
                                    "Stutters uphill and the lamp flashes.",
                                    "Runs on three when it is wet."),
                            Map.of("since", "a week", "often", "every day", "engine", "hot", "phase", "under load",
                                    "lamp", "flashing", "weather", "rain or damp"),
                            "coil",
                            "spark weak on cylinder 3, and the fault goes with the coil",
                            "Ignition coil of cylinder 3 replaced.",
                            new Part("Ignition coil", "IC-3390-2", "IC-3390-2", "Corrin", "Ropewalk Parts", "78.30",
                                    "58.00", "fine crack in the housing"),
                            "0.7",
                            "Ignition coil replaced",
                            bay -> List.of(
                                    bay.reproduce("seen", 2400),
                                    bay.codes("P0303"),
                                    bay.contribution(3),
                                    bay.ignition("one-weak", "fine", 3)),
                            bay -> List.of(
                                    bay.contribution(0),
                                    bay.ignitionGood(),
                                    bay.healthyAirFlow(),
                                    bay.healthyTrims()))),
            Map.entry(
                    "plugs",
                    new Ailment(
                            "misfire-load",
                            List.of("It hiccups when I accelerate in fourth.", "A stutter now and then on a hard pull."),
                            Map.of("since", "some weeks", "often", "now and then", "engine", "both", "phase",
                                    "under load", "lamp", "steady"),
                            "plugs",
                            "plugs worn, gap far too wide, and the fault goes with the plug",
                            "Set of spark plugs replaced, gap set as the maker says.",
                            new Part("Spark plugs, set of four", "SP-77R", "SP-77R", "Ardent", "Weir Street Factors",
                                    "52.65", "39.00", "electrodes worn, gap 1.6 mm"),
                            "0.9",
                            "Spark plugs replaced",
                            bay -> List.of(
                                    bay.reproduce("seen", 2200),
                                    bay.codes("P0302"),
                                    bay.contribution(2),
                                    bay.ignition("one-weak", "worn", 2)),
                            bay -> List.of(
                                    bay.contribution(0),
                                    bay.ignitionGood(),
                                    bay.healthyAirFlow(),
                                    bay.healthyTrims()))),
            Map.entry(
                    "throttle",
                    new Ailment(
                            "stalls",
                            List.of("It dies when I roll up to a junction.", "Stalls coming back to idle, starts again at once."),
                            Map.of("since", "a month", "often", "every day", "engine", "hot", "phase", "idle", "lamp",
                                    "off", "stalls-when", "coming back to idle", "restarts", "at once"),
                            "throttle-dirty",
                            "thick deposits at the throttle edge, idle control sluggish",
                            "Throttle body cleaned and idle relearned.",
                            null,
                            "1.1",
                            "Throttle body taken off, cleaned, refitted, idle relearned",
                            bay -> List.of(
                                    bay.reproduce("seen", 800),
                                    bay.codes("P0506"),
                                    bay.idleControl("slow", "dirty")),
                            bay -> List.of(
                                    bay.idleControl("follows", "clean"),
                                    bay.healthyAirFlow(),
                                    bay.healthyTrims()))),
            Map.entry(
                    "coolant",
                    new Ailment(
                            "hard-start-cold",
                            List.of("In the morning it cranks and cranks.", "Won't start at the first try after a night."),
                            Map.of("since", "since the frost came", "often", "every day", "engine", "cold", "phase",
                                    "cranking", "lamp", "off", "cranks", "up to ten seconds", "stand", "a night"),
                            "coolant-sensor",
                            "coolant reads 19 degrees warmer than the air after a night",
                            "Coolant temperature sensor replaced, cooling system bled.",
                            new Part("Coolant temperature sensor", "CT-602", "CT-602", "Pallin", "Ropewalk Parts",
                                    "33.75", "25.00", "green at the pins"),
                            "0.8",
                            "Coolant temperature sensor replaced",
                            bay -> List.of(bay.reproduce("seen", 300), bay.codes(""), bay.batteryGood(), bay.coldSoak(19, 91)),
                            bay -> List.of(bay.coldSoak(1, 90), bay.healthyTrims()))),
            Map.entry(
                    "oxygen",
                    new Ailment(
                            "poor-economy",
                            List.of("It drinks two litres more than last year.", "I fill up on Thursday now, it used to be Saturday."),
                            Map.of("since", "half a year", "often", "every time", "engine", "both", "phase", "cruise",
                                    "lamp", "steady", "measured", "full tank to full tank"),
                            "oxygen-sensor",
                            "two crossings in ten seconds, answers late when forced",
                            "Upstream oxygen sensor replaced.",
                            new Part("Oxygen sensor, upstream", "OX-5120", "OX-5120", "Ardent", "Weir Street Factors",
                                    "128.25", "95.00", "white deposits at the tip"),
                            "0.8",
                            "Upstream oxygen sensor replaced",
                            bay -> List.of(
                                    bay.notSeen(),
                                    bay.codes("P0133"),
                                    bay.oxygen(0.21, 0.74, 2, "slow"),
                                    bay.rolling("free", "right")),
                            bay -> List.of(
                                    bay.oxygen(0.12, 0.86, 9, "quick"),
                                    bay.healthyTrims(),
                                    bay.healthyAirFlow()))),
            Map.entry(
                    "thermostat",
                    new Ailment(
                            "poor-economy",
                            List.of("The heater stays lukewarm and it drinks.", "Needle never comes up to the middle now."),
                            Map.of("since", "the autumn", "often", "every day", "engine", "both", "phase", "cruise",
                                    "lamp", "steady", "measured", "on-board display"),
                            "thermostat",
                            "coolant stays at 64 degrees on the road",
                            "Thermostat and its seal replaced, coolant renewed and bled.",
                            new Part("Thermostat", "TH-88C", "TH-88C", "Dunmore", "Ropewalk Parts", "37.80", "28.00",
                                    "stuck open by a hair"),
                            "1.3",
                            "Thermostat replaced, cooling system filled and bled",
                            bay -> List.of(bay.reproduce("seen", 2000), bay.codes("P0128"), bay.coldSoak(1, 64)),
                            bay -> List.of(bay.coldSoak(1, 91), bay.healthyTrims()))),
            Map.entry(
                    "battery",
                    new Ailment(
                            "hard-start-cold",
                            List.of("Slow to turn over in the morning, then it barely catches."),
                            Map.of("since", "two weeks", "often", "every day", "engine", "cold", "phase", "cranking",
                                    "lamp", "off", "cranks", "longer", "stand", "a night"),
                            "battery-charging",
                            "battery falls to 8.7 V while cranking; charging is right",
                            "Battery replaced, charging checked, clamps cleaned.",
                            new Part("Battery", "BT-70", "BT-70", "Hallam", "Weir Street Factors", "117.45", "87.00",
                                    "six years old, one cell weak"),
                            "0.4",
                            "Battery replaced, clamps cleaned",
                            bay -> List.of(bay.reproduce("seen", 250), bay.battery(12.02, 8.7, 14.2), bay.groundDrop(0.11)),
                            bay -> List.of(bay.batteryGood()))),
            Map.entry(
                    "ground",
                    new Ailment(
                            "hard-start-hot",
                            List.of("Starts badly when it is warm, and the dials twitch."),
                            Map.of("since", "a month", "often", "now and then", "engine", "hot", "phase", "cranking",
                                    "lamp", "off", "cranks", "a few seconds"),
                            "engine-ground",
                            "0.62 V lost between block and battery while cranking",
                            "Ground strap cleaned, bolt renewed, drop measured again.",
                            null,
                            "0.9",
                            "Engine ground strap taken off, cleaned and refitted",
                            bay -> List.of(bay.reproduce("seen", 250), bay.batteryGood(), bay.groundDrop(0.62)),
                            bay -> List.of(bay.groundDrop(0.08)))),
            Map.entry(
                    "catalyst",
                    new Ailment(
                            "lack-of-power",
                            List.of("It will not go past three thousand any more."),
                            Map.of("since", "two weeks", "often", "every time", "engine", "hot", "phase", "under load",
                                    "lamp", "steady", "power-when", "only above some engine speed"),
                            "exhaust-blocked",
                            "31 kPa before the catalyst at 2,500 rpm",
                            "Catalyst replaced; the misfire that had melted it was repaired last month.",
                            new Part("Catalyst", "EX-2201", "EX-2201", "Dunmore", "Ropewalk Parts", "742.50", "550.00",
                                    "melted through on one side"),
                            "2.4",
                            "Catalyst replaced with new gaskets",
                            bay -> List.of(
                                    bay.reproduce("seen", 3000),
                                    bay.codes("P0420"),
                                    bay.healthyTrims(),
                                    bay.airFlow(1, 0.97),
                                    bay.backPressure(10.4, 31.2)),
                            bay -> List.of(
                                    bay.backPressure(2.1, 6.4),
                                    bay.healthyAirFlow(),
                                    bay.healthyTrims()))),
            Map.entry(
                    "purge",
                    new Ailment(
                            "fuel-smell",
                            List.of("Smells of petrol after every fill-up, and it runs lumpy then."),
                            Map.of("since", "spring", "often", "now and then", "engine", "hot", "phase", "idle", "lamp",
                                    "off", "after", "after filling up"),
                            "purge-open",
                            "trims jump when the hose is pinched: the valve does not shut",
                            "Purge valve replaced.",
                            new Part("Purge valve", "PV-310", "PV-310", "Pallin", "Weir Street Factors", "48.60",
                                    "36.00", "does not hold vacuum"),
                            "0.6",
                            "Purge valve replaced",
                            bay -> List.of(
                                    bay.reproduce("intermittent", 800),
                                    bay.codes("P0441"),
                                    bay.trims(-13.8, -4.2),
                                    bay.purge(-13.8, -2.1, "draws")),
                            bay -> List.of(
                                    bay.purge(0.8, 1.1, "shut"),
                                    bay.healthyTrims(),
                                    bay.healthyAirFlow()))),
            Map.entry(
                    "crank",
                    new Ailment(
                            "stalls",
                            List.of("Cuts out on the road when warm, starts again after a quarter of an hour."),
                            Map.of("since", "three weeks", "often", "now and then", "engine", "hot", "phase", "cruise",
                                    "lamp", "off", "stalls-when", "while driving", "restarts", "must cool first"),
                            "crank-cam-sensor",
                            "the crank signal fades out when it is hot",
                            "Crank sensor replaced, gap and connector checked.",
                            new Part("Crank sensor", "CK-404", "CK-404", "Corrin", "Ropewalk Parts", "70.20", "52.00",
                                    "winding opens when warmed"),
                            "1.0",
                            "Crank sensor replaced",
                            bay -> List.of(bay.reproduce("intermittent", 2200), bay.codes("P0335"), bay.camCrank("gaps")),
                            bay -> List.of(
                                    bay.camCrank("right"),
                                    bay.healthyAirFlow(),
                                    bay.healthyTrims()))),
            Map.entry(
                    "wire",
                    new Ailment(
                            "stumble-tip-in",
                            List.of("It trips over itself when I touch the pedal.", "Stumbles pulling away, some days worse than others."),
                            TIP_IN,
                            "air-sensor-supply",
                            "1.3 V lost in the feed wire, chafed at the battery tray",
                            "Feed wire of the air-flow sensor repaired and routed clear of the tray; the sensor is sound.",
                            null,
                            "1.4",
                            "Feed wire repaired, sealed and fastened",
                            bay -> List.of(
                                    bay.reproduce("seen", 1500),
                                    bay.codes("P0102"),
                                    bay.trims(6.3, 13.9),
                                    bay.airFlow(0.95, 0.82),
                                    bay.supplyFeedBad()),
                            bay -> List.of(
                                    bay.supplyFeedGood(),
                                    bay.healthyTrims(),
                                    bay.healthyAirFlow()))),
            Map.entry(
                    "lamp",
                    new Ailment(
                            "surge",
                            List.of("At a steady fifty it swells and sinks, once a week or so."),
                            Map.of("since", "two months", "often", "now and then", "engine", "hot", "phase", "cruise",
                                    "lamp", "off", "from", "fifty"),
                            "something-else",
                            "nothing found",
                            "Nothing repaired.",
                            null,
                            "0.5",
                            "Road tests",
                            bay -> List.of(
                                    bay.notSeen(),
                                    bay.codes(""),
                                    bay.healthyTrims(),
                                    bay.healthyAirFlow(),
                                    bay.wiggleNothing()),
                            bay -> List.of())),
            Map.entry(
                    "brake",
                    new Ailment(
                            "poor-economy",
                            List.of("It uses far more than the neighbour's, the very same car."),
                            Map.of("since", "always, I think", "often", "every time", "engine", "both", "phase",
                                    "cruise", "lamp", "off", "measured", "on-board display"),
                            "not-engine",
                            "left rear brake drags, disc 140 degrees after a drive without braking",
                            "Left rear brake freed and adjusted; the engine is sound.",
                            null,
                            "1.5",
                            "Left rear brake taken apart, freed, greased and adjusted",
                            bay -> List.of(
                                    bay.notSeen(),
                                    bay.codes(""),
                                    bay.healthyTrims(),
                                    bay.healthyAirFlow(),
                                    bay.rolling("drag", "right")),
                            bay -> List.of(bay.rolling("free", "right")))));

    private Ailments() {}

    static Ailment of(String key) {
        Ailment ailment = ALL.get(key);
        if (ailment == null) {
            throw new IllegalArgumentException("No ailment is called " + key);
        }
        return ailment;
    }
}
