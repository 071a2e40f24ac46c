package idlewright;

import org.springframework.boot.SpringApplication;
import org.springframework.boot.autoconfigure.SpringBootApplication;

@SpringBootApplication
public class Idlewright {

    public static void main(String[] args) {
        SpringApplication.run(Idlewright.class, args);
    }
}
