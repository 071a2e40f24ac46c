/** The folder of sealed files and the key they are sealed with. */
package idlewright.warranty.model;
