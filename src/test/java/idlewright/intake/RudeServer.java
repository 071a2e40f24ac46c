package idlewright.intake;

import java.io.BufferedReader;
import java.io.IOException;
import java.io.InputStreamReader;
import java.net.InetAddress;
import java.net.ServerSocket;
import java.net.Socket;
import java.nio.charset.StandardCharsets;
import java.util.List;
import java.util.concurrent.CopyOnWriteArrayList;

/** A mail server with bad manners: takes the letter and hangs up without a word, or hangs up before it, or says no at its end. */
class RudeServer implements AutoCloseable {

    private final ServerSocket door;
    private final String way;
    private final List<String> letters = new CopyOnWriteArrayList<>();
    private Runnable greeted = () -> {};

    /**
     * @param way "DROP" after the letter, "DROP AT MAIL", or the reply after the letter, like "451"
     */
    RudeServer(int port, String way) throws IOException {
        this.way = way;
        door = new ServerSocket(port, 5, InetAddress.getByName("127.0.0.1"));
        var listening = new Thread(this::listen, "rude mail server");
        listening.setDaemon(true);
        listening.start();
    }

    List<String> letters() {
        return letters;
    }

    void whenGreeted(Runnable then) {
        greeted = then;
    }

    private void listen() {
        while (!door.isClosed()) {
            try (Socket caller = door.accept()) {
                talk(caller);
            } catch (IOException hungUp) {
                // Its manners.
            }
        }
    }

    private void talk(Socket caller) throws IOException {
        var in = new BufferedReader(new InputStreamReader(caller.getInputStream(), StandardCharsets.ISO_8859_1));
        say(caller, "220 rude");
        for (String line = in.readLine(); line != null; line = in.readLine()) {
            String word = line.split(" ")[0].toUpperCase(java.util.Locale.ROOT);
            switch (word) {
                case "EHLO", "HELO" -> {
                    greeted.run();
                    say(caller, "250 rude");
                }
                case "MAIL" -> {
                    if (way.equals("DROP AT MAIL")) {
                        return;
                    }
                    say(caller, "250 ok");
                }
                case "DATA" -> {
                    say(caller, "354 go on");
                    var letter = new StringBuilder();
                    for (String part = in.readLine(); part != null && !part.equals("."); part = in.readLine()) {
                        letter.append(part).append('\n');
                    }
                    letters.add(letter.toString());
                    if (way.equals("DROP")) {
                        return;
                    }
                    say(caller, way + " so be it");
                }
                case "QUIT" -> {
                    say(caller, "221 bye");
                    return;
                }
                default -> say(caller, "250 ok");
            }
        }
    }

    private static void say(Socket caller, String words) throws IOException {
        caller.getOutputStream().write((words + "\r\n").getBytes(StandardCharsets.ISO_8859_1));
        caller.getOutputStream().flush();
    }

    @Override
    public void close() throws IOException {
        door.close();
    }
}
