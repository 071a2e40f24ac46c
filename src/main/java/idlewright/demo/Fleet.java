package idlewright.demo;

import idlewright.intake.Customers;
import idlewright.intake.Vehicles;
import java.math.BigDecimal;
import java.util.Arrays;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Map;
import java.util.Objects;
import org.jspecify.annotations.Nullable;

/** The customers of the demo shop and what they drive. Invented, makes and engines too. */
final class Fleet {

    /** One who owns vehicles. */
    record Owner(String key, String who, Customers.Telling telling) {}

    /** An engine that several vehicles share. */
    record Engine(String family, String litres, String fuel, String aspiration, String metering, int idleRpm) {

        double displacement() {
            return Double.parseDouble(litres);
        }
    }

    /** One vehicle, with its odometer today and what it drives in a day. */
    record Car(
            String plate,
            String owner,
            String vin,
            String make,
            String model,
            int year,
            Engine engine,
            String gearbox,
            int kmToday,
            int kmADay) {

        Vehicles.Telling telling() {
            return new Vehicles.Telling(
                    vin,
                    plate,
                    make,
                    model,
                    year,
                    engine.family(),
                    new BigDecimal(engine.litres()),
                    4,
                    engine.fuel(),
                    engine.aspiration(),
                    engine.metering(),
                    gearbox,
                    "km");
        }

        BigDecimal kmAgo(int days) {
            return BigDecimal.valueOf(Math.max(1_000, kmToday - (long) kmADay * days));
        }
    }

    static final String LEAD = "TB 22 GRB";

    private static final Map<String, Engine> ENGINES = byKey(
            Engine::family,
            new Engine("BW22", "2.2", "PETROL", "NATURAL", "HOT_FILM", 780),
            new Engine("HD16", "1.6", "PETROL", "NATURAL", "MANIFOLD_PRESSURE", 720),
            new Engine("HD20", "2.0", "E10", "NATURAL", "HOT_FILM", 740),
            new Engine("MW18T", "1.8", "PETROL", "TURBO", "HOT_FILM", 760),
            new Engine("TN14", "1.4", "E10", "NATURAL", "HOT_WIRE", 700),
            new Engine("TN19D", "1.9", "DIESEL", "TURBO", "HOT_FILM", 820));

    static final Map<String, Owner> OWNERS = owners("""
            grand-row  | Grand Row Bakery      | Ines Okafor     | 555 0142 | ines@grandrow.example    | PHONE | 9 Grand Row, Tallow Bridge | Vans leave at four in the morning; call after ten.
            saltmarsh  | Saltmarsh Laundry     | Piet Ansgar     | 555 0117 | yard@saltmarsh.example   | PHONE | 2 Sluice Lane, Tallow Bridge |
            pell       | Pell and Daughter, joiners | Hattie Pell | 555 0163 | hattie@pelljoinery.example | EMAIL | Unit 5, Sawpit Court, Tallow Bridge |
            quayside   | Quayside Fish         | Bram Oyelaran   | 555 0128 |                          | TEXT  | Stall 14, Fish Quay, Tallow Bridge | Needs the van back by Thursday, always.
            harrowgate | Harrowgate Florist    | Sunniva Dale    | 555 0181 | orders@harrowgate.example | EMAIL | 31 Weir Street, Tallow Bridge |
            ferryman   | Ferryman Couriers     | Teodor Quill    | 555 0109 | fleet@ferryman.example   | EMAIL | 60 Ropewalk, Tallow Bridge | Invoice with the van's plate on it.
            lindholm  | Anneke Lindholm       | Anneke Lindholm | 555 0134 |                          | PHONE | 12 Chandler's Rise, Tallow Bridge |
            fenn       | Odalys Fenn           | Odalys Fenn     | 555 0176 | odalys@fenn.example      | TEXT  | 3 Mill Cottages, Overy |
            castell    | Imre Castell          | Imre Castell    | 555 0155 |                          | PHONE | 77 Weir Street, Tallow Bridge | Hard of hearing: speak up, or write.
            harker     | Nell Harker           | Nell Harker     | 555 0192 | nell@harker.example      | PHONE | Old Toll House, Overy Road |
            tamblyn    | Osric Tamblyn         | Osric Tamblyn   | 555 0113 |                          | PHONE | 8 Dyer's Yard, Tallow Bridge |
            venn       | Priya Venn            | Priya Venn      | 555 0168 | priya@venn.example       | EMAIL | 40 Chapel Steps, Tallow Bridge |
            bright     | Una Bright            | Una Bright      | 555 0121 |                          | TEXT  | 5 Lock Keeper's Row, Overy |
            ormerod    | Wilf Ormerod          | Wilf Ormerod    | 555 0187 |                          | PHONE | High Barn, Coldharbour |
            stennet    | Yara Stennet          | Yara Stennet    | 555 0139 | yara@stennet.example     | TEXT  | 21 Ropewalk, Tallow Bridge |
            moorcroft  | Leda Moorcroft        | Leda Moorcroft  | 555 0150 | leda@moorcroft.example   | PHONE | 16 Weir Street, Tallow Bridge |
            vane       | Hollis Vane           | Hollis Vane     | 555 0172 |                          | PHONE | Lower Farm, Coldharbour | Old parts back, always.
            sole       | Marguerite Sole       | Marguerite Sole | 555 0104 | m@sole.example           | EMAIL | 2 The Terrace, Overy |
            achterberg | Tobin Achterberg      | Tobin Achterberg | 555 0146 |                         | PHONE | 55 Chapel Steps, Tallow Bridge |
            district   | Overy District Nurses | Calla Whitrow   | 555 0198 | cars@overynurses.example | PHONE | Health Rooms, Overy | One car at a time, please.
            """);

    static final Map<String, Car> CARS = cars("""
            TB 22 GRB | grand-row  | U9BFN22V5KT004417 | Brightwater | Finch 2.2 van  | 2019 | BW22  | MANUAL    |  86940 |  95
            TB 31 GRB | grand-row  | U9BFN22V1LT005120 | Brightwater | Finch 2.2 van  | 2020 | BW22  | MANUAL    |  71205 |  90
            TB 07 SML | saltmarsh  | U9BFN22V7JT003308 | Brightwater | Finch 2.2 van  | 2018 | BW22  | MANUAL    | 142380 | 120
            TB 08 SML | saltmarsh  | U9BFN22V9JT003309 | Brightwater | Finch 2.2 van  | 2018 | BW22  | MANUAL    | 138011 | 115
            TB 19 SML | saltmarsh  | U9BFN22V2LT006642 | Brightwater | Finch 2.2 van  | 2020 | BW22  | MANUAL    |  88630 | 110
            TB 55 PEL | pell       | U9BHR22P3KT001190 | Brightwater | Heron 2.2 pick-up | 2019 | BW22 | MANUAL   |  96412 |  60
            TB 56 PEL | pell       | U9BHR22P4MT002954 | Brightwater | Heron 2.2 pick-up | 2021 | BW22 | MANUAL   |  54290 |  58
            TB 14 QSF | quayside   | U9BFN22R6JT002216 | Brightwater | Finch 2.2 chiller | 2018 | BW22 | MANUAL   | 160774 | 105
            TB 40 HGF | harrowgate | U9BFN22V8KT004960 | Brightwater | Finch 2.2 van  | 2019 | BW22  | AUTOMATIC |  63118 |  50
            TB 61 FRY | ferryman   | U9BFN22V3LT007011 | Brightwater | Finch 2.2 van  | 2020 | BW22  | MANUAL    | 187450 | 190
            TB 62 FRY | ferryman   | U9BFN22V5LT007012 | Brightwater | Finch 2.2 van  | 2020 | BW22  | MANUAL    | 179926 | 185
            TB 63 FRY | ferryman   | U9BFN22V7LT007013 | Brightwater | Finch 2.2 van  | 2020 | BW22  | MANUAL    | 192308 | 188
            TB 64 FRY | ferryman   | U9BFN22V9MT008140 | Brightwater | Finch 2.2 van  | 2021 | BW22  | MANUAL    | 121775 | 180
            TB 18 LND | lindholm  | U9BWG22E1KT000731 | Brightwater | Wagtail 2.2 estate | 2019 | BW22 | AUTOMATIC | 84320 | 35
            TB 70 FNN | fenn       | U9BWG22E4JT000508 | Brightwater | Wagtail 2.2 estate | 2018 | BW22 | MANUAL  | 109660 |  38
            TB 33 CAS | castell    | U9BWG22E7LT001244 | Brightwater | Wagtail 2.2 estate | 2020 | BW22 | AUTOMATIC | 41875 | 22
            TB 85 HRK | harker     | U9HFJ16H2HA110382 | Halden      | Fjord 1.6      | 2017 | HD16  | MANUAL    |  98214 |  30
            TB 11 TMB | tamblyn    | U9HFJ16H6JA119047 | Halden      | Fjord 1.6      | 2018 | HD16  | MANUAL    |  77530 |  25
            TB 92 VNN | venn       | U9HSK20E3LA203316 | Halden      | Skerry 2.0     | 2020 | HD20  | AUTOMATIC |  58904 |  36
            TB 26 BRT | bright     | U9HSK20E9KA198771 | Halden      | Skerry 2.0     | 2019 | HD20  | MANUAL    |  73466 |  33
            TB 48 ORM | ormerod    | U9HCB20P1HA150020 | Halden      | Corbie 2.0 4x4 | 2017 | HD20  | MANUAL    | 131902 |  45
            TB 73 STN | stennet    | U9MWR18T4LC310455 | Marlow      | Weir 1.8 T     | 2020 | MW18T | MANUAL    |  66037 |  42
            TB 29 MRC | moorcroft  | U9MWR18T8KC298116 | Marlow      | Weir 1.8 T     | 2019 | MW18T | AUTOMATIC |  80255 |  40
            TB 38 VAN | vane       | U9MLK18T2JC277403 | Marlow      | Lock 1.8 T     | 2018 | MW18T | MANUAL    | 119384 |  52
            TB 04 SOL | sole       | U9TSP14H5MD420078 | Tern        | Sandpiper 1.4  | 2021 | TN14  | MANUAL    |  29416 |  18
            TB 95 ACH | achterberg | U9TSP14H7KD402231 | Tern        | Sandpiper 1.4  | 2019 | TN14  | MANUAL    |  62049 |  28
            TB 50 ODN | district   | U9TSP14H1LD411190 | Tern        | Sandpiper 1.4  | 2020 | TN14  | MANUAL    |  91327 |  70
            TB 51 ODN | district   | U9TSP14H3LD411191 | Tern        | Sandpiper 1.4  | 2020 | TN14  | MANUAL    |  88740 |  68
            TB 52 ODN | district   | U9TSP14H5LD411192 | Tern        | Sandpiper 1.4  | 2020 | TN14  | MANUAL    |  94105 |  72
            TB 77 VAN | vane       | U9TDL19D6HD380612 | Tern        | Dunlin 1.9 D   | 2017 | TN19D | MANUAL    | 203661 |  80
            """);

    private Fleet() {}

    private static Map<String, Owner> owners(String table) {
        var owners = new LinkedHashMap<String, Owner>();
        for (String[] row : rows(table, 8)) {
            owners.put(
                    row[0],
                    new Owner(
                            row[0],
                            row[2],
                            new Customers.Telling(row[1], row[3], orNull(row[4]), row[6], row[5], orNull(row[7]))));
        }
        return owners;
    }

    private static Map<String, Car> cars(String table) {
        var cars = new LinkedHashMap<String, Car>();
        for (String[] row : rows(table, 10)) {
            cars.put(
                    row[0],
                    new Car(
                            row[0],
                            row[1],
                            row[2],
                            row[3],
                            row[4],
                            Integer.parseInt(row[5]),
                            Objects.requireNonNull(ENGINES.get(row[6])),
                            row[7],
                            Integer.parseInt(row[8]),
                            Integer.parseInt(row[9])));
        }
        return cars;
    }

    static List<String[]> rows(String table, int cells) {
        return table.lines()
                .filter(line -> !line.isBlank())
                .map(line ->
                        Arrays.stream(line.split("\\|", -1)).map(String::strip).toArray(String[]::new))
                .map(row -> Arrays.copyOf(row, cells))
                .toList();
    }

    private static @Nullable String orNull(@Nullable String cell) {
        return cell == null || cell.isEmpty() ? null : cell;
    }

    private static Map<String, Engine> byKey(java.util.function.Function<Engine, String> key, Engine... engines) {
        var byKey = new LinkedHashMap<String, Engine>();
        for (Engine engine : engines) {
            byKey.put(key.apply(engine), engine);
        }
        return byKey;
    }
}
